"""Sockets, bells, the plausibility band, laying lengths, flanges."""

from __future__ import annotations

import math

import pytest

from lineproof.book.flanges import flange_dims
from lineproof.book.laying import laying_length
from lineproof.book.load import book
from lineproof.book.sizes import Size
from lineproof.book.sockets import bell_dims, plausible_socket, socket_depth_min, socket_dims
from lineproof.book.spec import PipeSpec
from lineproof.floor.errors import SizeNotListed
from lineproof.floor.sources import Reading, Standing

IN = 0.0254
SCH80 = PipeSpec("pvc", "sch80", "ips")
SCH40 = PipeSpec("pvc", "sch40", "ips")
PN10 = PipeSpec("pvc", "pn10", "metric")


def nps(n: float) -> Size:
    return Size("nps", n)


@pytest.mark.parametrize(
    ("material", "series", "table", "depth"),
    [
        ("pvc", "sch40", "astm_d2466_sockets", 2.0),
        ("pvc", "sch80", "astm_d2467_sockets", 2.25),
        ("cpvc", "sch40", "astm_f438_sockets", 2.0),
        ("cpvc", "sch80", "astm_f439_sockets", 2.25),
    ],
)
def test_each_fitting_has_its_table(material: str, series: str, table: str, depth: float) -> None:
    dims = socket_dims(book(), nps(4), PipeSpec(material, series, "ips"), Reading())
    assert dims.table == table
    assert dims.kind == "taper-ips"
    assert dims.depth_min == pytest.approx(depth * IN)
    assert (dims.entrance, dims.bottom) == (pytest.approx(4.518 * IN), pytest.approx(4.491 * IN))
    assert socket_depth_min(book(), nps(4), PipeSpec(material, series, "ips"), Reading()) == dims.depth_min


def test_every_socket_value_waits_for_a_second_reader() -> None:
    log = Reading()
    socket_dims(book(), nps(4), SCH80, log)
    assert len(log.unconfirmed()) == len(log.cells) == 5
    assert log.weakest() is Standing.MEMORY


def test_metric_socket() -> None:
    dims = socket_dims(book(), Size("d", 110), PN10, Reading())
    assert dims.kind == "parallel-metric"
    assert (dims.entrance, dims.bottom, dims.dia_tol) == (None, None, None)
    assert (dims.mid_bore_min, dims.mid_bore_max) == (pytest.approx(0.1101), pytest.approx(0.1104))
    large = socket_dims(book(), Size("d", 400), PN10, Reading())
    assert (large.mid_bore_min, large.depth_min) == (None, pytest.approx(0.206))


def test_large_sockets_are_measured() -> None:
    with pytest.raises(SizeNotListed, match=r"24 in are not listed; allowed: sizes to 12 in.*measure"):
        socket_dims(book(), nps(24), SCH80, Reading())
    assert socket_depth_min(book(), nps(24), SCH80, Reading()) is None
    log = Reading()
    band = plausible_socket(book(), nps(24), log)
    assert band is not None
    assert band.depth_about == pytest.approx(12 * IN)
    assert len(log.unconfirmed()) == 4
    assert plausible_socket(book(), nps(12), log) is None
    assert plausible_socket(book(), Size("d", 400), log) is None


def test_fittings_on_sdr_pipe_say_their_series() -> None:
    with pytest.raises(SizeNotListed, match=r"SDR 26.*sch40 or sch80"):
        socket_dims(book(), nps(6), PipeSpec("pvc", "sdr26", "ips"), Reading())
    assert socket_depth_min(book(), nps(6), PipeSpec("pvc", "sdr26", "ips"), Reading()) is None


def test_bells_have_diameters_and_no_depth() -> None:
    dims = bell_dims(book(), nps(8), Reading())
    assert dims.depth_min is None
    assert dims.entrance == pytest.approx(8.655 * IN)
    for size in (nps(14), Size("d", 110)):
        with pytest.raises(SizeNotListed, match="measure"):
            bell_dims(book(), size, Reading())


def test_laying_lengths_are_defaults() -> None:
    """IS 7834:1987 through a digest: d110 ell 56 (+6/-1), coupling stop 6 (+3/-1); no inch fitting."""
    ell = laying_length(book(), Size("d", 110), "elbow-90", Reading())
    assert ell is not None
    assert (ell.z, ell.plus, ell.minus, ell.default) == (0.056, 0.006, 0.001, True)
    stop = laying_length(book(), Size("d", 110), "coupling", Reading())
    assert stop is not None
    assert (stop.z, stop.plus) == (0.006, 0.003)
    tee = laying_length(book(), Size("d", 110), "tee-45", Reading(), port="run")
    assert tee is not None
    assert (tee.z, tee.plus, tee.tolerance_sure) == (0.024, None, False)
    for size, fitting, port in (
        (nps(12), "elbow-90", ""), (Size("d", 400), "elbow-90", ""), (Size("d", 110), "cross", ""),
        (Size("d", 110), "tee-45", ""), (Size("d", 315), "tee-45", "branch"),
    ):  # fmt: skip
        assert laying_length(book(), size, fitting, Reading(), port=port) is None


def test_flange_drilling() -> None:
    """ASME B16.5 Class 150 NPS 12: 19 / 17 in, 12 x 7/8; holes straddle: first at 15 degrees."""
    log = Reading()
    twelve = flange_dims(book(), nps(12), "class150", log)
    assert (twelve.od, twelve.bolt_circle) == (pytest.approx(19 * IN), pytest.approx(17 * IN))
    assert (twelve.bolt_count, twelve.bolt_dia) == (12, pytest.approx(0.875 * IN))
    assert twelve.first_hole == pytest.approx(math.radians(15))
    assert twelve.thickness is None
    assert {c.column for c in log.unconfirmed()} == {"bolt_count", "bolt_hole_in", "bolt_dia_in"}


def test_dn200_is_the_classic_misfit() -> None:
    """EN 1092-1 (memory): DN 200 has 8 holes at PN 10 and 12 at PN 16."""
    assert flange_dims(book(), Size("d", 225), "pn10", Reading()).bolt_count == 8
    assert flange_dims(book(), Size("d", 225), "pn16", Reading()).bolt_count == 12
    asked = flange_dims(book(), Size("d", 250), "pn10", Reading(), nominal=250)
    assert (asked.name, asked.bolt_circle) == ("DN 250", 0.35)


def test_flanges_that_are_not_settled() -> None:
    for size, drilling, says in (
        (Size("d", 250), "pn10", "no usual DN is listed for d250"),
        (Size("d", 315), "class150", "named by inch size"),
        (nps(12), "pn10", "no usual DN"),
        (nps(12), "pn6", "pn6"),
        (nps(22), "class150", "20, 24"),
    ):
        with pytest.raises(SizeNotListed, match=says):
            flange_dims(book(), size, drilling, Reading())
    assert flange_dims(book(), Size("d", 315), "class150", Reading(), nominal=12).name == "12 in"
