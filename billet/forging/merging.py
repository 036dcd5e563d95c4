"""Columns side by side come to one bar: volumes, masses and losses by their share of the width."""

import math
from collections.abc import Callable, Sequence
from dataclasses import fields, replace

from billet.contract.forging_rows import HeatSize, LayerSize, LayerSum, Lost
from billet.forging.model import Bar, Column, ForgedRow


def merged_rows(columns: Sequence[Column]) -> tuple[ForgedRow, ...]:
    """The rows of the bar; those of its one column where no bars lie side by side."""
    if len(columns) == 1:
        return columns[0].rows
    shares = [column.share for column in columns]
    return tuple(_row(rows, shares) for rows in zip(*(column.rows for column in columns), strict=True))


def merged_bar(columns: Sequence[Column]) -> Bar:
    """The bar after the last step."""
    first = columns[0].final
    if len(columns) == 1:
        return first
    row = merged_rows(columns)[-1]
    steel_kg = {
        name: math.fsum(column.share * column.final.steel_kg[name] for column in columns)
        for name in first.steel_kg
    }
    return replace(
        first,
        height_mm=row.height_mm,
        width_mm=row.width_mm,
        length_mm=row.length_mm,
        mass_kg=row.mass_kg,
        steel_kg=steel_kg,
        layers_laid=row.layers_laid,
        layers_visible=row.layers_visible,
        disturbed=any(column.final.disturbed for column in columns),
        alike=any(column.final.alike for column in columns),
    )


def _row(rows: Sequence[ForgedRow], shares: Sequence[float]) -> ForgedRow:
    first = rows[0]

    def mean(value: Callable[[ForgedRow], float]) -> float:
        return math.fsum(share * value(row) for share, row in zip(shares, rows, strict=True))

    mass_kg = mean(lambda row: row.mass_kg)
    width_mm, solid_mm = mean(lambda row: row.width_mm), mean(lambda row: row.solid_height_mm)
    volume_mm3 = mean(lambda row: row.solid_height_mm * row.width_mm * row.length_mm)
    piece_mm = None if first.piece_mm is None else mean(lambda row: row.piece_mm or 0.0)
    visible = _visible(rows)
    skins = [row.skin_um for row in rows]
    return replace(
        first,
        height_mm=mean(lambda row: row.height_mm),
        width_mm=width_mm,
        length_mm=volume_mm3 / (solid_mm * width_mm),
        solid_height_mm=solid_mm,
        each_heat=_heats(rows, shares),
        piece_mm=piece_mm,
        mass_kg=mass_kg,
        lost_kg=_lost(rows, shares),
        added_kg=mean(lambda row: row.added_kg),
        yield_=mass_kg / mean(lambda row: row.mass_kg / row.yield_),
        layers_visible=visible,
        layer_um=_layer_size(rows),
        skin_um=(min(low for low, _ in skins), min(high for _, high in skins)),
        mass_share={
            name: mean(lambda row, name=name: row.mass_kg * row.mass_share[name]) / mass_kg  # type: ignore[misc]
            for name in first.mass_share
        },
        layer_sum=_layer_sum(rows, visible),
        alike=any(row.alike for row in rows),
        layers=(),
    )


def _visible(rows: Sequence[ForgedRow]) -> int:
    """Layers to the eye of all columns, those that go through all of them counted once."""
    through = max(row.layer_sum.across for row in rows)
    return through + sum(row.layers_visible - row.layer_sum.across for row in rows)


def _heats(rows: Sequence[ForgedRow], shares: Sequence[float]) -> tuple[HeatSize, ...]:
    return tuple(
        HeatSize(
            math.fsum(share * size.height_mm for share, size in zip(shares, sizes, strict=True)),
            math.fsum(share * size.length_mm for share, size in zip(shares, sizes, strict=True)),
        )
        for sizes in zip(*(row.each_heat for row in rows), strict=True)
    )


def _lost(rows: Sequence[ForgedRow], shares: Sequence[float]) -> Lost:
    return Lost(
        **{
            field.name: math.fsum(
                share * getattr(row.lost_kg, field.name) for share, row in zip(shares, rows, strict=True)
            )
            for field in fields(Lost)
        }
    )


def _layer_size(rows: Sequence[ForgedRow]) -> LayerSize:
    """The mean over all layers, the thinnest and the thickest of any column."""
    count = sum(row.layers_visible for row in rows)
    mean = math.fsum(row.layers_visible * row.layer_um.mean for row in rows) / count
    sizes = [row.layer_um for row in rows]
    return LayerSize(mean, min(size.thinnest for size in sizes), max(size.thickest for size in sizes))


def _layer_sum(rows: Sequence[ForgedRow], visible: int) -> LayerSum:
    sums = [row.layer_sum for row in rows]
    gone = max(one.gone for one in sums)
    seams = [one.seams for one in sums if one.seams is not None]
    return replace(
        sums[0],
        state="columns",
        visible=visible,
        seams=max(seams) if seams else None,
        gone=gone,
        gone_in=next((one.gone_in for one in sums if one.gone_in is not None), None),
    )
