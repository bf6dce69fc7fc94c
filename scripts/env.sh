# Makes and keeps the environment in .venv. Sourced by ./lineproof and ./test with $here set to the project folder.
# One environment serves both: ./lineproof installs what a run needs, ./test adds what the tests need.
# .venv/made-run and .venv/made-test are copies of the lock files that were installed; they are written last, so an
# environment without one of them is half made and is built again.

lp_ready() { # lp_ready run|test: is the environment whole, and made from today's lock?
    [[ -x "$here/.venv/bin/python" ]] || return 1
    if [[ $1 == run ]]; then
        cmp -s "$here/requirements.lock" "$here/.venv/made-run"
    else
        cmp -s "$here/requirements.lock" "$here/.venv/made-run" &&
            cmp -s "$here/requirements-test.lock" "$here/.venv/made-test"
    fi
}

lp_say() { printf 'lineproof: %s\n' "$*" >&2; }

lp_python() { # prints the first Python that is new enough
    local candidate
    for candidate in ${LINEPROOF_PYTHON:+"$LINEPROOF_PYTHON"} python3.11 python3.12 python3.13 python3.14 python3 python; do
        if "$candidate" -c 'import sys; sys.exit(sys.version_info < (3, 11))' >/dev/null 2>&1; then
            command -v "$candidate"
            return 0
        fi
    done
    return 1
}

lp_old_python() { # what is there instead, for the sentence that says so
    local found
    found=$(python3 -c 'import sys; print("Python %d.%d" % sys.version_info[:2])' 2>/dev/null) || found="no Python"
    printf '%s' "$found"
}

lp_why() { # the line of a log that says most
    grep -m 1 -i -E '^ *(error|fatal)\b|× ' "$1" || grep -v -e '^WARNING' -e '^[[:space:]]*$' "$1" | tail -n 1
}

lp_lock() { # one at a time: file descriptor 9 stays locked until it is closed or this shell ends
    exec 9>"$here/.venv.lock" || return 1
    if command -v flock >/dev/null 2>&1; then
        flock 9
    else
        "$1" -c 'import fcntl; fcntl.flock(9, fcntl.LOCK_EX)'
    fi
}

lp_install() { # lp_install LOCKFILE: exactly what the lock says, hashes checked
    # The lock is whole, so nothing is resolved: some versions of pip, asked to resolve `coverage[toml]>=7` beside
    # `coverage==7.1`, try the newest release first and fail on its missing hash the day one is published.
    if command -v uv >/dev/null 2>&1; then
        VIRTUAL_ENV="$here/.venv" uv pip sync --quiet --require-hashes "$1"
    else
        "$here/.venv/bin/python" -m pip --version >/dev/null 2>&1 || "$here/.venv/bin/python" -m ensurepip
        "$here/.venv/bin/python" -m pip install --quiet --disable-pip-version-check --no-input \
            --no-deps --require-hashes -r "$1" && "$here/.venv/bin/python" -m pip check
    fi
}

lp_prepare() { # lp_prepare run|test: returns with a whole environment, or with one line that says what is wrong
    local want=$1 python lock log="$here/.venv.log" first=yes
    lp_ready "$want" && return 0
    if ! python=$(lp_python); then
        lp_say "needs Python 3.11 or newer, found $(lp_old_python): install it, or set LINEPROOF_PYTHON to its path."
        return 70
    fi
    lp_lock "$python" || { lp_say "cannot write in $here: copy the folder to where you may write."; return 70; }
    if lp_ready "$want"; then # another first run made it while this one waited
        exec 9>&-
        return 0
    fi
    lock=requirements.lock
    [[ $want == test || -e "$here/.venv/made-test" ]] && lock=requirements-test.lock
    [[ -x "$here/.venv/bin/python" && -e "$here/.venv/made-run" ]] && first=
    : >"$log"
    if [[ $first ]]; then
        lp_say "first run, making the environment in .venv (a minute or two, once)..."
        rm -rf "$here/.venv"
        if command -v uv >/dev/null 2>&1; then
            uv venv --quiet --python "$python" "$here/.venv" >>"$log" 2>&1 9>&-
        elif ! "$python" -c 'import venv, ensurepip' >/dev/null 2>&1; then
            lp_say "this Python has no venv module: install it (on Debian or Ubuntu: apt-get install python3-venv)."
            return 70
        else
            "$python" -m venv "$here/.venv" >>"$log" 2>&1 9>&-
        fi || { lp_say "could not make .venv: $(lp_why "$log") (all of it: $log)"; return 70; }
    else
        lp_say "bringing the environment up to date with $lock..."
        rm -f "$here/.venv/made-run" # from here to the end it is half made
    fi
    if ! lp_install "$here/$lock" >>"$log" 2>&1 9>&-; then
        lp_say "could not install what $lock lists: $(lp_why "$log") (all of it: $log)"
        return 70
    fi
    if [[ $lock == requirements-test.lock ]]; then cp "$here/$lock" "$here/.venv/made-test"; fi
    cp "$here/requirements.lock" "$here/.venv/made-run.part"
    mv "$here/.venv/made-run.part" "$here/.venv/made-run"
    rm -f "$log"
    exec 9>&-
}
