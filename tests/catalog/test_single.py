"""One block at a time: written beside what is there, or refused with nothing written."""

import pytest
from django.contrib.auth.models import User

from catalog.exporting import block_of
from catalog.formats import FILES
from catalog.importing.loading import catalog_digest
from catalog.importing.refusals import LoadRefused
from catalog.importing.single import StillNeeded, TooManyOwn, add_block, add_own_block, change_block, remove_block
from catalog.models import Enclosure, Fan, Maker, Source, Supply
from catalog.records import notes_on, record_of

TAG = "k3v7q2xa"


@pytest.fixture
def ann(loaded):
    return User.objects.create(username="ann")


def block_now(kind, code):
    row = FILES[kind].model.objects.get(code=code)
    return block_of(FILES[kind], record_of(row, FILES[kind], notes_on(row)), whole=True)


def change(kind, code, /, **keys):
    rows = FILES[kind].model.objects.all()
    return change_block(kind=kind, rows=rows, code=code, revise=lambda row, block: block | keys)


def remove(kind, code):
    remove_block(kind=kind, rows=FILES[kind].model.objects.all(), code=code, check=lambda row, block: None)


def refused(write, *arguments, **named):
    before = catalog_digest(), Enclosure.objects.count(), Fan.objects.count()
    with pytest.raises(LoadRefused) as caught:
        write(*arguments, **named)
    assert (catalog_digest(), Enclosure.objects.count(), Fan.objects.count()) == before
    return {refusal.field: refusal for refusal in caught.value.refusals}


@pytest.mark.parametrize("kind", ["fans", "enclosures"])
def test_a_copy_under_another_code_is_added(loaded, kind):
    code = FILES[kind].model.objects.first().code
    block = block_now(kind, code) | {"code": "another"}
    add_block(kind=kind, block=block)
    assert block_now(kind, "another") == block


def test_a_code_in_use_is_refused(loaded):
    fan = block_now("fans", "fan-120")
    assert "is the code of a fan already" in str(refused(add_block, kind="fans", block=fan)["code"])
    other = refused(add_block, kind="fans", block=fan | {"code": "drive-8"})["code"]
    assert "is already loaded as one of the drives" in str(other)


def test_a_change_keeps_what_it_does_not_name(loaded):
    before = block_now("enclosures", "tower")
    change("enclosures", "tower", price=1.0)
    assert block_now("enclosures", "tower") == before | {"price": 1.0}


def test_what_is_as_before_is_not_written(loaded, monkeypatch):
    monkeypatch.setattr("catalog.importing.single.write_record", lambda *args: pytest.fail("written"))
    change("enclosures", "tower")


def test_a_code_never_changes(loaded):
    assert refused(change, "fans", "fan-120", code="fan-121")["code"].accepted == "'fan-120'"


def test_what_hangs_loose_inside_is_refused_whole(loaded):
    openings = [o for o in block_now("enclosures", "tower")["openings"] if o["code"] != "cage"]
    found = refused(change, "enclosures", "tower", openings=openings, price=2)
    assert "'cage' is not one of its openings" in str(found["bay_groups.cage_35.opening"])


def test_a_supply_must_agree_with_those_of_its_air_path(loaded):
    first, second = Supply.objects.all()[:2]
    change("supplies", second.code, air_path=second.air_path)
    loss = block_now("supplies", first.code)["path_loss"]
    if first.air_path == second.air_path:
        assert "differs in path_loss" in str(refused(change, "supplies", first.code, path_loss=loss + 1)["air_path"])
    else:
        pytest.fail("the small catalogue has two supplies of one air path")


def test_an_own_supply_has_its_air_to_itself(ann):
    block = block_now("supplies", Supply.objects.first().code)
    own = add_own_block(kind="supplies", block=block | {"path_loss": 9}, owner=ann, tag=TAG, most=9)
    assert own.air_path == block["air_path"] and own.path_loss == 9 != block["path_loss"]


def test_an_own_part_gets_its_code_from_the_word(ann):
    block = block_now("fans", "fan-120") | {"code": "shelf"}
    own = add_own_block(kind="fans", block=block, owner=ann, tag=TAG, most=9)
    assert (own.code, own.owner) == (f"own-{TAG}-shelf", ann)
    assert "already" in str(refused(add_own_block, kind="fans", block=block, owner=ann, tag=TAG, most=9)["code"])


def test_a_change_leaves_an_own_part_its_owner_and_its_offer(ann, now):
    block = block_now("fans", "fan-120") | {"code": "shelf"}
    own = add_own_block(kind="fans", block=block, owner=ann, tag=TAG, most=9)
    Fan.objects.coded(own.code).update(offered_at=now, contributor="Ann")
    change("fans", own.code, price=3)
    own.refresh_from_db()
    assert (own.owner, own.offered_at, own.contributor, own.price) == (ann, now, "Ann", 3)


def test_own_parts_of_all_kinds_count(ann):
    add_own_block(kind="fans", block=block_now("fans", "fan-120") | {"code": "a"}, owner=ann, tag=TAG, most=2)
    add_own_block(kind="drives", block=block_now("drives", "drive-8") | {"code": "b"}, owner=ann, tag=TAG, most=2)
    with pytest.raises(TooManyOwn):
        add_own_block(kind="fans", block=block_now("fans", "fan-120") | {"code": "c"}, owner=ann, tag=TAG, most=2)


def test_a_public_part_may_not_be_called_like_an_own_one(loaded):
    block = block_now("fans", "fan-120") | {"code": f"own-{TAG}-x"}
    assert "as only own parts do" in str(refused(add_block, kind="fans", block=block)["code"])


def test_a_source_in_use_stays(loaded):
    with pytest.raises(StillNeeded, match="fan 'fan-120'"):
        remove("sources", "sheet")
    assert Source.objects.coded("sheet").exists()


def test_own_parts_that_need_a_maker_are_counted_and_not_named(ann):
    add_block(kind="makers", block={"code": "new", "name": "New"})
    block = block_now("fans", "fan-120") | {"code": "shelf", "maker": "New"}
    add_own_block(kind="fans", block=block, owner=ann, tag=TAG, most=9)
    with pytest.raises(StillNeeded) as caught:
        remove("makers", "new")
    assert caught.value.by == "one own part"


def test_a_maker_that_parts_name_keeps_its_name(loaded):
    code = Maker.objects.get(name="Marl").code
    with pytest.raises(StillNeeded, match="needed by"):
        change("makers", code, name="Marle")
    change("makers", code, note="Still there.")
    assert Maker.objects.get(code=code).note == "Still there."


def test_a_maker_s_name_is_its_own(loaded):
    assert "is the name of maker" in str(refused(add_block, kind="makers", block={"code": "x", "name": "Marl"})["name"])


@pytest.mark.parametrize(("kind", "code"), [("sources", "own-estimate"), ("makers", "own")])
def test_what_is_built_in_stays(loaded, kind, code):
    with pytest.raises(StillNeeded, match="every catalogue"):
        remove(kind, code)
    assert "is built in" in str(next(iter(refused(change, kind, code, note="Mine.").values())))


def test_a_part_goes_with_its_notes(loaded):
    remove("fans", "fan-120")
    remove("enclosures", "tower")
    assert not Fan.objects.coded("fan-120").exists() and not Enclosure.objects.exists()


@pytest.mark.parametrize("block", [None, [], "fan", 3])
def test_what_is_no_block_is_refused(loaded, block):
    (refusal,) = refused(add_block, kind="fans", block=block).values()
    assert refusal.reason == "is not a block of keys and values"
