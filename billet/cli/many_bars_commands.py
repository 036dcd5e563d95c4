"""The commands over many bars: sweep, partners, wish."""

import argparse
from typing import TYPE_CHECKING, Any

from billet.cli.other_commands import analysis
from billet.cli.reading import read_recipe, read_shop, refusal
from billet.cli.writing import Answer, as_csv, as_json

if TYPE_CHECKING:
    from billet import Partners, PartnerTable

SORTS = ("hardens", "weld", "oil", "ms", "contrast", "name")


def sweep(chosen: argparse.Namespace) -> Answer:
    """The answer at every value: text, JSON or CSV."""
    from billet import sweep as swept
    from billet.text.many_bars import sweep_text

    found = swept(read_recipe(chosen.recipe), chosen.vary)
    if chosen.json:
        return as_json(found.to_dict())
    if chosen.csv:
        return as_csv(found.to_dict()["rows"])
    return Answer(sweep_text(found))


def partners(chosen: argparse.Namespace) -> Answer:
    """Partners of one steel, or every steel beside every other: text, JSON or CSV."""
    from billet import own_partner_terms, partner_question, partner_table
    from billet import partners as partners_of
    from billet.text.many_bars import partners_text, sorted_rows, table_text

    if chosen.name is not None and chosen.wt is not None:
        raise refusal("give a steel or --wt, and not both")
    told = {} if chosen.shop is None else read_shop(chosen.shop)
    own = own_partner_terms(told, chosen.fire, chosen.half_width, chosen.oil)
    asked = partner_question(chosen.share, own.half_width_k, own.fire, chosen.section, own.oils)
    if chosen.name is None and chosen.wt is None:
        table = partner_table(asked)
        if chosen.csv:
            return as_csv(_table_rows(table))
        return as_json(table.to_dict()) if chosen.json else Answer(table_text(table))
    found = partners_of(chosen.name if chosen.wt is None else analysis(chosen.wt), asked)
    if chosen.json:
        return as_json(found.to_dict())
    listed = sorted_rows(found, chosen.sort)
    return as_csv(_partner_rows(found, listed)) if chosen.csv else Answer(partners_text(found, listed))


def _partner_rows(found: "Partners", listed: Any) -> list[dict[str, Any]]:
    """A line a partner: every verdict with its figures, reasons in words; each figure under one name."""
    rows = {row["steel"]: row for row in found.to_dict()["rows"]}
    return [
        {key: _flat(value) if isinstance(value, dict) else value for key, value in rows[row.steel].items()
         if key not in ("carbon_wt", "ms_apart_k")}
        | {"carbon_wt": {"own": row.carbon_wt[found.steel], "partner": row.carbon_wt[row.steel]}}
        for row in listed
    ]  # fmt: skip


def _flat(verdict: dict[str, Any]) -> dict[str, Any]:
    return {key: value for key, value in verdict.items() if key != "reasons"}


def _table_rows(table: "PartnerTable") -> list[dict[str, Any]]:
    """A line a pair."""
    return [
        {"steel": first, "beside": second, **{name: told[i][j] for name, told in table.verdicts.items()}}
        for i, first in enumerate(table.steels)
        for j, second in enumerate(table.steels)
        if i != j
    ]


def wish(chosen: argparse.Namespace) -> Answer:
    """Proposals for a wish: text, JSON, or the steel to cut as CSV."""
    from billet import EXAMPLE_WISH, propose
    from billet.text.many_bars import wish_text

    if chosen.units is not None and (chosen.json or chosen.csv):
        raise refusal("JSON and CSV are always in mm and C, as their keys say; leave out --units")
    if chosen.recipe is None:
        return Answer(EXAMPLE_WISH)
    found = propose(read_recipe(chosen.recipe))
    if chosen.json:
        return as_json(found.to_dict())
    if chosen.csv:
        plain = found.to_dict()
        return as_csv(
            [{"proposal": n, **row} for n, p in enumerate(plain["proposals"], 1) for row in p["cut_list"]]
        )
    return Answer(wish_text(found, chosen.units or "mm"))
