# Programs that the tests need from the system, not from Python: a browser with its store of certificates, poppler to
# look at the papers, and npm to build the packed scripts anew.
# Sourced by ./test. A missing one stops the gate; nothing is skipped for want of a tool.

lp_system_tools() {
    local missing=() log
    command -v chromium >/dev/null 2>&1 || missing+=(chromium)
    command -v pdftoppm >/dev/null 2>&1 || missing+=(poppler-utils)
    command -v certutil >/dev/null 2>&1 || missing+=(libnss3-tools)
    command -v npm >/dev/null 2>&1 || missing+=(nodejs npm)
    ((${#missing[@]})) || return 0
    if [[ $(id -u) == 0 ]] && command -v apt-get >/dev/null 2>&1; then
        printf '== installing %s\n' "${missing[*]}"
        log=$(mktemp)
        if apt-get update -qq >"$log" 2>&1 &&
            DEBIAN_FRONTEND=noninteractive apt-get install -y -qq --no-install-recommends \
                "${missing[@]}" >>"$log" 2>&1; then
            rm -f "$log"
            return 0
        fi
        printf 'test: could not install %s: %s (all of it: %s)\n' "${missing[*]}" "$(tail -n 1 "$log")" "$log" >&2
        return 1
    fi
    printf 'test: needs %s: install it first (on Debian or Ubuntu: sudo apt-get install %s).\n' \
        "${missing[*]}" "${missing[*]}" >&2
    return 1
}
