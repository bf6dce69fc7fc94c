"""People with what they are qualified for, and cans with their dates."""

from __future__ import annotations

from fastapi import APIRouter, Request
from fastapi.responses import HTMLResponse

from lineproof.desk.web.page import page

router = APIRouter()


@router.get("/people", response_class=HTMLResponse)
def people(request: Request) -> HTMLResponse:
    """Who may do what, and what is in the cans."""
    settings = request.app.state.site.pack().work.job.settings
    rows = [
        {
            "id": p.id,
            "name": p.name,
            "role": p.role,
            "signs": ", ".join(r.replace("_", " ") for r in settings.signs.role_of(p.id)),
            "qualified": [
                f"{q.material}, {q.steps}, {q.size_lo.text} to {q.size_hi.text}"
                + (f", last used {q.last_used_on.isoformat()}" if q.last_used_on else ", last use not said")
                for q in p.qualifications
            ],
        }
        for p in settings.people
    ]
    cans = [
        {
            "id": c.id,
            "what": f"{c.kind}{', card ' + c.card if c.card else ''}",
            "lot": c.lot,
            "count": c.count,
            "expires": c.expires.isoformat() if c.expires else "not said",
        }
        for c in settings.cans
    ]
    return page(request, "people.html", title="People and cans", rows=rows, cans=cans)
