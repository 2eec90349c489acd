"""What the endpoints of one kind of the catalogue say of themselves."""

from __future__ import annotations

from collections.abc import Mapping

from api.etags import TAGS
from api.filters import parameters_of
from api.kinds import Kind
from api.query_values import value_schema
from api.schema import part_examples as examples
from api.schema.columns import code_shape
from api.schema.operation import HEADER, PATH, Answer, Operation, Parameter
from api.schema.shapes import flag, many, named, number, one_of, page_of, record, text
from api.serializers.offers import AcceptBody, DeclineBody, OfferBody
from catalog.finding.filters import OWNERS, order_value, owner_value
from catalog.models.vocabulary import SourceKind

Operations = Mapping[str, Operation]

_VERSION = Parameter(
    "If-Match", text("ETag of the version that you have seen, or `*`.", pattern=TAGS), HEADER, required=True
)
_MATCH = {412: "It has changed since you read it.", 428: "There is no If-Match."}
_TAGGED = {"ETag": "The version that this is."}
_ADDED = {"Location": "Its address.", **_TAGGED}
_FIGURE = record(
    "One figure with who says so and how sure it is.",
    name=text("Its key, with dots on the way down an enclosure, such as `openings.front.area_cm2`."),
    value={"description": "A number, a word, a list of points, or an object of several of these."},
    unit=text("Its unit; of points the unit of the second numbers; empty for plain numbers."),
    source=code_shape("Code of its source."),
    source_kind=one_of(SourceKind.values, "How it came about."),
    standard_uncertainty=number("One standard uncertainty, in the unit or, where `relative`, as a share.", minimum=0),
    relative=flag("Whether the uncertainty is a share of the figure, as with curves whose every point is as sure."),
    stated=flag("Whether somebody stated the uncertainty; otherwise it follows from how the figure came about."),
)
FIGURE_COMPONENTS = {"PartFigure": _FIGURE}
_FIGURES = record(
    "Every figure of one part.",
    code=code_shape("The part's code."),
    figures=many(named("PartFigure"), "Its figures, those inside an enclosure one by one."),
)
_ABOUT_FILTERS = """
Every filter must hold. Numbers have three: `price` for just this, `price_min` and `price_max` for a range with both
ends in it. Words and codes take several with commas between. Lists of words, such as `sockets`, are asked for one that
they hold. Curves and other lists of readings cannot be filtered by. The order is by `ordering`, then by code; rows
without a value come last."""
_ABOUT_INSIDE = """
Filters on what is inside, such as `openings.fan_size_mm`, must hold together for one and the same opening, bay group
and so on. The list leaves out what is inside: zones, openings, bay groups, seats, sound shares and supply_opening are
in the whole only."""
_ABOUT_OWN = """

It is your own, or, if you are a curator, the catalogue's; `owner` says otherwise. The code of an own part is formed
from `code` as a word of yours: `own-<your tag>-<word>`."""
_ABOUT_PATCH = """
The body is a merge patch (RFC 7396): objects are merged key by key, at every depth; null takes a key away, so that it
stands for its default; lists are replaced as a whole. What comes out is checked like a body of PUT."""


def path_parameters(kind: Kind) -> tuple[Parameter, ...]:
    code = code_shape(f"Code of the {kind.layout.noun}.", examples=[examples.demo_block(kind)["code"]])
    return (Parameter("code", code, PATH),)


def list_parameters(kind: Kind) -> tuple[Parameter, ...]:
    """Return the parameters of a list beside those of its pages."""
    owner = value_schema(
        owner_value(),
        f"Whose: {', '.join(OWNERS)}. The catalogue's and your own unless told; on offer are those that curators see.",
    )
    order = value_schema(
        order_value(kind.layout), "By what to sort, with a dash before it to go down; by code unless told."
    )
    own = [Parameter("owner", owner)] if kind.layout.is_part else []
    return (Parameter("ordering", order), *own, *parameters_of(kind))


def list_operations(kind: Kind) -> Operations:
    layout, has_inside = kind.layout.outside, any(kind.layout.children)
    item = f"{kind.name}Outline" if has_inside else kind.name
    page = Answer("A page of them.", page_of(named(item), kind.plural), lambda: examples.demo_page(kind, layout))
    listed = f"List {kind.plural}.\n\n{_ABOUT_FILTERS.strip()}{_ABOUT_INSIDE if has_inside else ''}"
    return {
        "GET": Operation(f"list_{_plural_id(kind)}", {200: page}, said=listed),
        "POST": Operation(
            f"add_{_id(kind)}",
            {201: Answer("It is there.", named(kind.name), lambda: examples.new_body(kind), _ADDED)},
            named(f"{kind.name}Body"),
            lambda: {"one_more": examples.new_block(kind)},
            {409: "You have as many own parts as one may have."} if kind.layout.is_part else {},
            said=f"Add {_one(kind)}.{_ABOUT_OWN if kind.layout.is_part else ''}",
        ),
    }


def detail_operations(kind: Kind) -> Operations:
    one, shown = _one(kind), Answer("It.", named(kind.name), lambda: examples.demo_body(kind))
    kept = Answer("It, as it is now.", named(kind.name), lambda: examples.demo_body(kind), _TAGGED)
    needed = {} if kind.layout.is_part else {409: "Parts rest on it."}
    return {
        "GET": Operation(f"read_{_id(kind)}", {200: shown}, said=f"Read {one}."),
        "PUT": Operation(
            f"replace_{_id(kind)}",
            {200: kept},
            named(f"{kind.name}Body"),
            lambda: {"as_it_is": examples.demo_body(kind)},
            _MATCH | needed,
            (_VERSION,),
            f"Write {one} anew.\n\nWhat is left out takes its default.",
        ),
        "PATCH": Operation(
            f"change_{_id(kind)}",
            {200: kept},
            named(f"{kind.name}Patch"),
            lambda: {"one_key": _patch(kind)},
            _MATCH | needed,
            (_VERSION,),
            f"Change some of {one}.\n\n{_ABOUT_PATCH.strip()}",
        ),
        "DELETE": Operation(
            f"delete_{_id(kind)}",
            {204: Answer("It is gone.")},
            errors=_MATCH | needed,
            headers=(_VERSION,),
            said=f"Delete {one}.\n\nStudies keep what they were made with.",
        ),
    }


def figures_operations(kind: Kind) -> Operations:
    answer = Answer("They.", _FIGURES, lambda: examples.demo_figures(kind))
    said = f"Read every figure of {_one(kind)} with its source and standard uncertainty."
    return {"GET": Operation(f"read_{_id(kind)}_figures", {200: answer}, said=said)}


def offer_operations(kind: Kind) -> Operations:
    one = Answer("It, as it stands now.", named(kind.name), lambda: examples.own_body(kind, offered=True))
    back = Answer("It, as it stands now.", named(kind.name), lambda: examples.own_body(kind, offered=False))
    return {
        "POST": Operation(
            f"offer_{_id(kind)}",
            {200: one},
            OfferBody,
            {"named": {"contributor": "Mara Field"}, "unnamed": {"contributor": ""}, "by_username": {}},
            said=f"Offer {_one(kind)} of your own to the catalogue.\n\nIt stays yours until a curator accepts it.",
        ),
        "DELETE": Operation(
            f"withdraw_{_id(kind)}", {200: back}, said=f"Take back the offer of {_one(kind)} of your own."
        ),
    }


def accept_operations(kind: Kind) -> Operations:
    answer = Answer("It, in the catalogue.", named(kind.name), lambda: examples.new_body(kind))
    said = f"Accept {_one(kind)} on offer into the catalogue.\n\nIts owner gives it up; its contributor stays named."
    body = {"code": f"another-{kind.word}"}
    return {
        "POST": Operation(
            f"accept_{_id(kind)}", {200: answer}, AcceptBody, {"coded": body}, _MATCH, (_VERSION,), said=said
        )
    }


def decline_operations(kind: Kind) -> Operations:
    said = f"Decline {_one(kind)} on offer.\n\nIt stays its owner's, who reads the note."
    body = {"note": "Please say at what air density the points were measured."}
    return {
        "POST": Operation(
            f"decline_{_id(kind)}",
            {204: Answer("It is off the list.")},
            DeclineBody,
            {"asked": body},
            _MATCH,
            (_VERSION,),
            said=said,
        )
    }


def _id(kind: Kind) -> str:
    return kind.word.replace("-", "_")


def _plural_id(kind: Kind) -> str:
    return kind.path.replace("-", "_")


def _one(kind: Kind) -> str:
    noun = kind.layout.noun
    return f"{'an' if noun[0] in 'aeiou' else 'a'} {noun}"


def _patch(kind: Kind) -> dict[str, object]:
    return {"price": 25.5} if kind.layout.is_part else {"note": "Seen again this spring."}
