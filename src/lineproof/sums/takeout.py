"""Take-outs and cut lengths: from centre to centre on the drawing to the length to saw."""

from __future__ import annotations

from lineproof.floor.errors import OutsideTable
from lineproof.floor.worked import figure
from lineproof.sums.limits import finite, not_negative, positive


@figure(
    "take-out",
    formula="Z = E - S",
    symbols={
        "centre_to_face": ("E", "length", "centre to face, measured on the fitting"),
        "depth": ("S", "length", "depth from face to stop, measured on the same socket"),
    },
    result=("Z", "length", "take-out, centre to stop"),
    source=("common practice; Z is centre to socket bottom as in IS 7834:1987 (read in a digest)"),
    note="both lengths from the same fitting",
)
def take_out(centre_to_face: float, depth: float) -> float:
    """Distance from the centre of a fitting to the stop in its socket.

    Parameters
    ----------
    centre_to_face : float
        Centre to face, measured on the fitting. [m]
    depth : float
        Depth from face to stop, measured on the same socket. [m]

    Returns
    -------
    float
        Take-out, centre to stop. [m]

    Valid range
    -----------
    centre_to_face > 0; 0 <= depth <= centre_to_face; both from the same fitting.

    Notes
    -----
    Z = E - S. A spigot, flange or ring end takes depth 0: its take-out runs to the end or face
    itself. A standard's socket depth is a minimum and is never subtracted from a measured centre to
    face.

    Examples
    --------
    >>> round(take_out(centre_to_face=0.25, depth=0.15), 9)
    0.1

    References
    ----------
    .. [1] IS 7834:1987 gives Z as centre to socket bottom (read in a digest of the standard).
    .. [2] Arithmetic of the trade: common practice, no source.
    """
    positive("centre_to_face", centre_to_face, unit="m")
    not_negative("depth", depth, unit="m")
    if depth > centre_to_face:
        raise OutsideTable(
            f"depth {depth:g} m is more than centre to face {centre_to_face:g} m",
            allowed="a depth up to the centre to face of the same fitting",
            by="the valid range of this sum",
            next="measure both again on the same fitting",
        )
    return centre_to_face - depth


def stop_to_stop(
    *, centre_to_centre: float, take_out_a: float, take_out_b: float, gap_a: float = 0.0, gap_b: float = 0.0
) -> float:
    """Room between the two stops, less the gaps left: below the shortest nipple the sockets meet.

    Parameters
    ----------
    centre_to_centre : float
        Centre to centre, as on the drawing. [m]
    take_out_a : float
        Take-out at the first end. [m]
    take_out_b : float
        Take-out at the second end. [m]
    gap_a : float
        Gap left to the stop at the first end. [m]
    gap_b : float
        Gap left to the stop at the second end. [m]

    Returns
    -------
    float
        Room for the piece; 0 or less when the sockets overlap. [m]

    Valid range
    -----------
    centre_to_centre >= 0; take_out_a >= 0; take_out_b >= 0; gap_a >= 0; gap_b >= 0.

    Notes
    -----
    c = C - Z_a - Z_b - g_a - g_b

    Examples
    --------
    >>> stop_to_stop(centre_to_centre=1.0, take_out_a=0.125, take_out_b=0.125)
    0.75

    References
    ----------
    .. [1] Arithmetic of the trade: common practice, no source.
    """
    not_negative("centre_to_centre", centre_to_centre, unit="m")
    not_negative("take_out_a", take_out_a, unit="m")
    not_negative("take_out_b", take_out_b, unit="m")
    not_negative("gap_a", gap_a, unit="m")
    not_negative("gap_b", gap_b, unit="m")
    return centre_to_centre - take_out_a - take_out_b - gap_a - gap_b


@figure(
    "cut-length",
    formula="c = C - Z_a - Z_b - g_a - g_b",
    symbols={
        "centre_to_centre": ("C", "length", "centre to centre, as on the drawing"),
        "take_out_a": ("Z_a", "length", "take-out at the first end"),
        "take_out_b": ("Z_b", "length", "take-out at the second end"),
        "gap_a": ("g_a", "length", "gap left to the stop at the first end"),
        "gap_b": ("g_b", "length", "gap left to the stop at the second end"),
    },
    result=("c", "length", "cut length"),
    source="common practice, no source",
)
def cut_length(
    *, centre_to_centre: float, take_out_a: float, take_out_b: float, gap_a: float = 0.0, gap_b: float = 0.0
) -> float:
    """Length to saw for one piece between two fittings.

    Parameters
    ----------
    centre_to_centre : float
        Centre to centre, as on the drawing. [m]
    take_out_a : float
        Take-out at the first end. [m]
    take_out_b : float
        Take-out at the second end. [m]
    gap_a : float
        Gap left to the stop at the first end. [m]
    gap_b : float
        Gap left to the stop at the second end. [m]

    Returns
    -------
    float
        Cut length. [m]

    Valid range
    -----------
    all >= 0, and a result above 0.

    Notes
    -----
    c = C - Z_a - Z_b - g_a - g_b. At the temperature of joining; see ``length_when_cut`` for a
    piece sawn warmer or colder.

    Examples
    --------
    >>> cut_length(centre_to_centre=1.0, take_out_a=0.125, take_out_b=0.125, gap_a=0.0, gap_b=0.0)
    0.75

    References
    ----------
    .. [1] Arithmetic of the trade: common practice, no source.
    """
    not_negative("centre_to_centre", centre_to_centre, unit="m")
    not_negative("take_out_a", take_out_a, unit="m")
    not_negative("take_out_b", take_out_b, unit="m")
    not_negative("gap_a", gap_a, unit="m")
    not_negative("gap_b", gap_b, unit="m")
    cut = centre_to_centre - take_out_a - take_out_b - gap_a - gap_b
    if cut <= 0.0:
        raise OutsideTable(
            f"the two stops are {cut:g} m apart, so no piece fits between them",
            allowed="a centre to centre longer than take-outs and gaps",
            by="the valid range of this sum",
            next="check the take-outs, or join the two fittings another way",
        )
    return cut


@figure(
    "face-to-face",
    formula="F = C - E_a - E_b",
    symbols={
        "centre_to_centre": ("C", "length", "centre to centre, as on the drawing"),
        "centre_to_face_a": ("E_a", "length", "centre to face of the first fitting"),
        "centre_to_face_b": ("E_b", "length", "centre to face of the second fitting"),
    },
    result=("F", "length", "face to face, 0 or more"),
    source="common practice, no source",
)
def face_to_face(*, centre_to_centre: float, centre_to_face_a: float, centre_to_face_b: float) -> float:
    """What a tape reads between the two fittings' faces once the piece is in.

    Parameters
    ----------
    centre_to_centre : float
        Centre to centre, as on the drawing. [m]
    centre_to_face_a : float
        Centre to face of the first fitting. [m]
    centre_to_face_b : float
        Centre to face of the second fitting. [m]

    Returns
    -------
    float
        Face to face, 0 or more. [m]

    Valid range
    -----------
    all >= 0, and a result of 0 or more.

    Notes
    -----
    F = C - E_a - E_b

    Examples
    --------
    >>> face_to_face(centre_to_centre=1.0, centre_to_face_a=0.25, centre_to_face_b=0.25)
    0.5

    References
    ----------
    .. [1] Arithmetic of the trade: common practice, no source.
    """
    not_negative("centre_to_centre", centre_to_centre, unit="m")
    not_negative("centre_to_face_a", centre_to_face_a, unit="m")
    not_negative("centre_to_face_b", centre_to_face_b, unit="m")
    between_faces = centre_to_centre - centre_to_face_a - centre_to_face_b
    if between_faces < 0.0:
        raise OutsideTable(
            f"the two fittings overlap by {-between_faces:g} m",
            allowed="a centre to centre of at least both centre to faces",
            by="the valid range of this sum",
            next="check the drawing, or use another fitting",
        )
    return between_faces


@figure(
    "exposed-length",
    formula="x = c - S_a - S_b",
    symbols={
        "cut": ("c", "length", "cut length of the piece"),
        "depth_a": ("S_a", "length", "depth taken up at the first end"),
        "depth_b": ("S_b", "length", "depth taken up at the second end"),
    },
    result=("x", "length", "exposed length; negative when the piece is too short for both depths"),
    source="common practice, no source",
)
def exposed_length(*, cut: float, depth_a: float, depth_b: float) -> float:
    """Bare pipe left between two faces once a piece is home at both ends.

    Parameters
    ----------
    cut : float
        Cut length of the piece. [m]
    depth_a : float
        Depth taken up at the first end. [m]
    depth_b : float
        Depth taken up at the second end. [m]

    Returns
    -------
    float
        Exposed length; negative when the piece is too short for both depths. [m]

    Valid range
    -----------
    cut >= 0; depth_a >= 0; depth_b >= 0.

    Notes
    -----
    x = c - S_a - S_b

    Examples
    --------
    >>> exposed_length(cut=1.0, depth_a=0.25, depth_b=0.25)
    0.5

    References
    ----------
    .. [1] Arithmetic of the trade: common practice, no source.
    """
    not_negative("cut", cut, unit="m")
    not_negative("depth_a", depth_a, unit="m")
    not_negative("depth_b", depth_b, unit="m")
    return cut - depth_a - depth_b


@figure(
    "shortest-nipple",
    formula="n = S_a + S_b + x",
    symbols={
        "depth_a": ("S_a", "length", "depth taken up at the first end"),
        "depth_b": ("S_b", "length", "depth taken up at the second end"),
        "exposed": ("x", "length", "bare pipe that must stay free between the faces"),
    },
    result=("n", "length", "shortest cut length"),
    source="common practice, no source",
)
def shortest_nipple(*, depth_a: float, depth_b: float, exposed: float) -> float:
    """Shortest piece that fills both sockets and leaves the bare pipe that straps, nuts and rings need.

    Parameters
    ----------
    depth_a : float
        Depth taken up at the first end. [m]
    depth_b : float
        Depth taken up at the second end. [m]
    exposed : float
        Bare pipe that must stay free between the faces. [m]

    Returns
    -------
    float
        Shortest cut length. [m]

    Valid range
    -----------
    depth_a >= 0; depth_b >= 0; exposed >= 0.

    Notes
    -----
    n = S_a + S_b + x

    Examples
    --------
    >>> shortest_nipple(depth_a=0.25, depth_b=0.25, exposed=0.125)
    0.625

    References
    ----------
    .. [1] Arithmetic of the trade: common practice, no source.
    """
    not_negative("depth_a", depth_a, unit="m")
    not_negative("depth_b", depth_b, unit="m")
    not_negative("exposed", exposed, unit="m")
    return depth_a + depth_b + exposed


@figure(
    "shortfall",
    formula="q = max(0, n - c)",
    symbols={
        "room": ("c", "length", "room between the stops, less gaps; may be negative"),
        "shortest": ("n", "length", "shortest piece that can be made"),
    },
    result=("q", "length", "shortfall, 0 when the piece can be made"),
    source="common practice, no source",
)
def shortfall(room: float, shortest: float) -> float:
    """How much longer a piece would have to be to be made at all.

    Parameters
    ----------
    room : float
        Room between the stops, less gaps; may be negative. [m]
    shortest : float
        Shortest piece that can be made. [m]

    Returns
    -------
    float
        Shortfall, 0 when the piece can be made. [m]

    Valid range
    -----------
    room finite; shortest >= 0.

    Notes
    -----
    q = max(0, n - c)

    Examples
    --------
    >>> shortfall(room=0.5, shortest=0.625)
    0.125

    References
    ----------
    .. [1] Arithmetic of the trade: common practice, no source.
    """
    finite("room", room, unit="m")
    not_negative("shortest", shortest, unit="m")
    return max(0.0, shortest - room)
