"""From a cement card to the table that the cure clock asks: one kind of wait, one size, one pressure."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import dataclass

from lineproof.book.sizes import Size
from lineproof.job.card_rows import CURE, HANDLING, HOLD, PULLERS, CardTime
from lineproof.job.cards import EDGE_K, EDGE_RH, CementCard
from lineproof.job.people import within
from lineproof.sums.waits import Waits


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class CardWaits:
    """The waits of a card for joints that share size and pressure column.

    Parameters
    ----------
    card : CementCard
    kind : str
        ``"hold"``, ``"pullers"``, ``"handling"`` or ``"cure"``.
    size : Size
    pressure_Pa : float or None
        Gauge pressure at the joint itself; a cure wait without it has no rows. [Pa]
    also : collection of str
        Names of factors that hold, such as ``"loose fit"``.
    waits : Waits
        The table.
    versions : tuple of CardWaits
        Where several versions of a card, or several cards, count together: each of them.
    """

    card: CementCard
    kind: str
    size: Size
    pressure_Pa: float | None
    also: Collection[str]
    waits: Waits
    versions: tuple[CardWaits, ...] = ()

    def rests_on(self, coldest: float, dampest: float | None) -> CardTime | None:
        """The printed row and the factors that a wait rests on.

        Parameters
        ----------
        coldest : float
            Lowest temperature met. [K]
        dampest : float or None
            Highest relative humidity met; None if it is not known. [-]

        Returns
        -------
        CardTime or None
            None where nothing is printed. On a card that prints less for colder or damper the longer row of
            the warmer or drier band.
        """
        if self.versions:
            rows = [each.rests_on(coldest, dampest) for each in self.versions]
            if self.waits(coldest, dampest) is None:
                return None
            return max((r for r in rows if r is not None), key=lambda r: r.time, default=None)
        wait = self.waits(coldest, dampest)
        own = look_up(self.card, self.kind, self.size, coldest, self.pressure_Pa, dampest, self.also)
        if wait is None or (own is not None and own.time >= wait):
            return own
        edges, damp = _steps(self.card, self.kind, self.size)
        warmer = [t for t in (*edges, *(e + 2.0 * EDGE_K for e in edges)) if t > coldest]
        drier = [dampest, *(h for h in damp if dampest is None or h < dampest)]
        told = [
            look_up(self.card, self.kind, self.size, t, self.pressure_Pa, h, self.also)
            for t in (coldest, *warmer)
            for h in drier
        ]
        return max((t for t in told if t is not None and t.time <= wait), key=lambda t: t.time, default=None)


def card_waits(
    card: CementCard,
    kind: str,
    size: Size,
    *,
    pressure_Pa: float | None = None,
    also: Collection[str] = (),
) -> CardWaits:
    """Table of a card's waits for one kind, size and pressure.

    Parameters
    ----------
    card : CementCard
        The card.
    kind : str
        ``"hold"``, ``"pullers"``, ``"handling"`` or ``"cure"``.
    size : Size
        Size of the joints.
    pressure_Pa : float or None
        Highest gauge pressure at the joints themselves; needed for cure. [Pa]
    also : collection of str
        Names of factors that hold.

    Returns
    -------
    CardWaits
        Asks the card itself, so an edge belongs where the card's look-up puts it.
    """
    edges, damp = _steps(card, kind, size)
    waits = Waits.of(
        lambda temp, rh: _seconds(look_up(card, kind, size, temp, pressure_Pa, rh, also)),
        edges=edges,
        damp=damp,
        dT_K=EDGE_K,
    )
    return CardWaits(card=card, kind=kind, size=size, pressure_Pa=pressure_Pa, also=also, waits=waits)


def longest_waits(
    cards: Sequence[CementCard],
    kind: str,
    size: Size,
    *,
    pressure_Pa: float | None = None,
    also: Collection[str] = (),
) -> CardWaits:
    """Table of the longest waits of several versions of a card, cell by cell.

    Parameters
    ----------
    cards : sequence of CementCard
        The oldest first; the last of each id is its newest, and the last of all the one that stands.
    kind : str
        ``"hold"``, ``"pullers"``, ``"handling"`` or ``"cure"``.
    size : Size
        Size of the joints.
    pressure_Pa : float or None
        Highest gauge pressure at the joints themselves; needed for cure. [Pa]
    also : collection of str
        Names of factors that hold, on whichever version prints them.

    Returns
    -------
    CardWaits
        Nothing where the newest of any id prints nothing; an older version that prints nothing there is
        passed over.
    """
    each = tuple(card_waits(card, kind, size, pressure_Pa=pressure_Pa, also=also) for card in cards)
    if len(each) == 1:
        return each[0]
    newest = {card.id: i for i, card in enumerate(cards)}.values()
    steps = [_steps(card, kind, size) for card in cards]

    def longest(temp: float, rh: float | None) -> float | None:
        told = [table.waits(temp, rh) for table in each]
        if any(told[i] is None for i in newest):
            return None
        return max(t for t in told if t is not None)

    return CardWaits(
        card=cards[-1],
        kind=kind,
        size=size,
        pressure_Pa=pressure_Pa,
        also=also,
        waits=Waits.of(
            longest,
            edges=sorted({edge for edges, _ in steps for edge in edges}),
            damp=sorted({step for _, damp in steps for step in damp}),
            dT_K=EDGE_K,
        ),
        versions=each,
    )


def look_up(
    card: CementCard,
    kind: str,
    size: Size,
    temp_K: float,
    pressure_Pa: float | None,
    rh: float | None,
    also: Collection[str],
) -> CardTime | None:
    """The card's answer for one kind of wait.

    Parameters
    ----------
    card : CementCard
        The card.
    kind : str
        Kind of row.
    size : Size
        Size of the joint.
    temp_K : float
        Coldest temperature met. [K]
    pressure_Pa : float or None
        Gauge pressure at the joint, for cure. [Pa]
    rh : float or None
        Highest relative humidity met. [-]
    also : collection of str
        Names of factors that hold.

    Returns
    -------
    CardTime or None
        None where the card does not say.
    """
    if kind == CURE:
        return card.cure(size, temp_K, pressure_Pa, rh, also=also)
    if kind == HANDLING:
        return card.handling(size, temp_K, rh, also=also)
    if kind == PULLERS:
        return card.pullers_off(size, temp_K)
    return card.hold(size, temp_K) if kind == HOLD else None


def _seconds(told: CardTime | None) -> float | None:
    return None if told is None else told.time


def _steps(card: CementCard, kind: str, size: Size) -> tuple[list[float], list[float]]:
    """Temperatures and humidities at which the card's answer may change for this kind and size."""
    rows = [r for r in card.rows if r.kind == kind and within(size, r.size_lo, r.size_hi)]
    edges = {t for r in rows for t in (r.temp_lo, r.temp_hi) if t is not None}
    damp = {r.humidity_max for r in rows} | {f.humidity_over for f in card.factors if f.lengthens(kind)}
    return sorted(edges), sorted(h + EDGE_RH for h in damp if h is not None)
