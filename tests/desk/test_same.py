"""A changed walk that does not say which joint is which: plan asks, changes nothing, and takes an answer."""

from typer.testing import CliRunner

from lineproof.desk.cli import app
from lineproof.floor.verdicts import Verdict
from lineproof.plan.ids import MatchUnclear
from rigs import coupling, elbow, flange, job_at, stock

WALK = (
    'line L size 6in pipe pvc sch80\nstarts at flange fixed "P" at 0, 0, 0 facing north\n'
    "go north 10'\nunion\ngo north 10'\nunion\ngo north 10'\nends at open\n"
)
PARTS = [
    elbow("6in", "6 1/2 in", "3 in"),
    flange("6in", "3 1/2 in", "3 in"),
    coupling("6in", "3 1/4 in", "3 in"),
    coupling("6in", "3 1/4 in", "3 in").replace('"coupling"', '"union"'),
]


def test_the_question_is_asked_and_the_answer_taken(tmp_path):
    folder = tmp_path / "job"
    job_at(folder, WALK, PARTS, toml=stock("6in"))
    run = CliRunner()
    first = run.invoke(app, ["plan", "--job", str(folder), "--issue", "--no-paper"])
    assert "issue" in first.output
    before = (folder / "joints.csv").read_bytes()
    one = WALK.replace(
        "go north 10'\nunion\ngo north 10'\nunion\ngo north 10'", "go north 15'\nunion\ngo north 15'"
    )
    (folder / "lines" / "line.walk").write_text(one, "utf-8")
    words = ["plan", "--job", str(folder), "--issue", "--no-paper"]
    asked = run.invoke(app, words)
    assert isinstance(asked.exception, MatchUnclear)
    assert (folder / "joints.csv").read_bytes() == before
    for _ in range(4):  # each answer may leave the next question
        said = str(asked.exception).split('answer "')[1].split('"')[0]
        words += ["--same", said]
        asked = run.invoke(app, words)
        if not isinstance(asked.exception, MatchUnclear):
            break
    assert asked.exit_code in {v.exit_code for v in Verdict}
    grown = (folder / "joints.csv").read_bytes()
    assert grown.startswith(before)
    assert len(grown) > len(before)
