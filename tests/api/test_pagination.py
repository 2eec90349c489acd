"""Pages by cursor: every row once, whatever the order, also where values are missing or rows are added meanwhile."""

import pytest
from django.core import signing
from rest_framework.request import Request
from rest_framework.test import APIRequestFactory

from api.errors import Invalid
from api.pagination import CursorPages
from catalog.models import Fan


class View:
    def __init__(self, *order):
        self.terms = order

    def order(self, request):
        return self.terms


@pytest.fixture
def fans(small_catalogue):
    """Eleven fans: some share a price, and half of them have no loss at rest."""
    first = Fan.objects.first()
    Fan.objects.all().delete()
    rests = [None, 5.0, 7.5]
    Fan.objects.bulk_create(
        Fan(**columns(first) | {"code": f"fan-{n:02}", "price": 10 + n // 4, "curve_rest_loss_pa_s2_m6": rests[n % 3]})
        for n in range(11)
    )
    return Fan.objects.all()


def columns(fan):
    return {field.attname: getattr(fan, field.attname) for field in Fan._meta.concrete_fields if not field.primary_key}


def page(rows, order, address="/?page_size=3"):
    pages = CursorPages()
    found = pages.paginate_queryset(rows, Request(APIRequestFactory().get(address)), View(*order))
    return [fan.code for fan in found], pages.get_paginated_response(found).data


def walk(rows, order, address="/?page_size=3", way="next"):
    """Follow a list from a page to its end, and return the pages' codes and the last page's address."""
    found = []
    while address:
        here = address
        codes, answer = page(rows, order, address)
        found.append(codes)
        address = answer[way]
    return found, here


ORDERS = [
    ("code",),
    ("-code",),
    ("price", "code"),
    ("-price", "code"),
    ("curve_rest_loss_pa_s2_m6", "code"),
    ("-curve_rest_loss_pa_s2_m6", "-code"),
    ("price", "-curve_rest_loss_pa_s2_m6", "code"),
]


@pytest.mark.parametrize("order", ORDERS, ids=" ".join)
def test_every_row_comes_once_there_and_back(fans, order):
    forth, last = walk(fans, order)
    flat = [code for codes in forth for code in codes]
    assert len(flat) == 11 and set(flat) == {fan.code for fan in fans}
    back, _ = walk(fans, order, last, "previous")
    assert [code for codes in back[::-1] for code in codes] == flat


@pytest.mark.parametrize("falling", ["", "-"])
def test_rows_without_a_value_come_last(fans, falling):
    codes, _ = walk(fans, (f"{falling}curve_rest_loss_pa_s2_m6", "code"))
    flat = [fans.get(code=code).curve_rest_loss_pa_s2_m6 for page in codes for code in page]
    assert flat[-4:] == [None] * 4 and flat[:-4] == sorted(flat[:-4], reverse=bool(falling))


def test_row_added_meanwhile_moves_nothing(fans):
    first, answer = page(fans, ("code",))
    Fan.objects.create(**columns(fans[0]) | {"code": "aaa"})
    second, _ = page(fans, ("code",), answer["next"])
    assert first + second == [f"fan-{n:02}" for n in range(6)]


def test_only_page_has_no_neighbours(fans):
    _, answer = page(fans, ("code",), "/")
    assert (answer["next"], answer["previous"], len(answer["results"])) == (None, None, 11)


@pytest.mark.parametrize("size", ["0", "201", "-1", "x", "", "1.5", "٣", "9" * 5000])
def test_page_size_out_of_range_is_refused(fans, size):
    with pytest.raises(Invalid) as refused:
        page(fans, ("code",), f"/?page_size={size}")
    assert refused.value.problems[0].accepted == "a whole number from 1 to 200"


FORGED = [["code"], ["fan-02"], False]


@pytest.mark.parametrize("cursor", ["", "x", "a:b:c", "é", FORGED], ids=str)
def test_cursor_that_we_did_not_make_is_refused(fans, cursor):
    cursor = signing.dumps(FORGED, salt="other") if cursor is FORGED else cursor
    with pytest.raises(Invalid) as refused:
        page(fans, ("code",), f"/?cursor={cursor}")
    assert refused.value.problems[0].field == "cursor"


def test_cursor_of_another_order_is_refused(fans):
    _, answer = page(fans, ("code",))
    with pytest.raises(Invalid, match="."):
        page(fans, ("-code",), answer["next"])


def test_neighbours_take_no_further_queries(fans, django_assert_num_queries):
    with django_assert_num_queries(1):
        page(fans, ("price", "code"))
