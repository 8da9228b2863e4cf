# Shared by the commands in this folder: getting what is missing. Sourced, in the project's folder; $command names the
# command to type again.

fail() {
    echo "$command: $1" >&2
    exit 1
}

# get_rust: Rust by rustup, with what building and checking the page needs.
get_rust() {
    command -v cargo >/dev/null || fail "Rust is missing. Install it by rustup, then run $command again."
    command -v rustup >/dev/null || fail "rustup is missing. Install Rust by rustup, then run $command again."
    rustup target list --installed | grep -qx wasm32-unknown-unknown ||
        rustup target add wasm32-unknown-unknown ||
        fail "the target wasm32-unknown-unknown could not be added by rustup: check the network, then run $command again"
    rustup component add rustfmt clippy >/dev/null 2>&1 || cargo clippy --version >/dev/null ||
        fail "rustfmt and clippy could not be added by rustup: check the network, then run $command again"
}

# get_packages NAME...: system packages, as root or by passwordless sudo.
get_packages() {
    [ $# -gt 0 ] || return 0
    local sudo
    if [ "$(id -u)" = 0 ]; then
        sudo=""
    elif sudo -n true 2>/dev/null; then
        sudo="sudo"
    else
        fail "missing: $*. Type: sudo apt-get update && sudo apt-get install -y $*"
    fi
    command -v apt-get >/dev/null || fail "missing: $*, and there is no apt-get here to get them with"
    echo "$command: installing $*"
    { $sudo apt-get update -q && $sudo apt-get install -y -q "$@"; } >target/apt.log 2>&1 ||
        fail "installing $* failed: see target/apt.log"
}

# get_axe: axe-core (accessibility checks, MPL-2.0) from its registry, pinned by its published checksum; no Node.
get_axe() {
    local axe=axe-core-4.14.1
    local sum=1477dafa598d8d065f273d6af302aa203c02e83131707b7fa648cd41bd3d6b734f8c22a0dab86ee6a6f64b8afbe804b214d36db85a2826965edfb3a0b9d546b5
    [ -f "target/$axe/axe.min.js" ] && return 0
    command -v curl >/dev/null || fail "curl is missing. Install it (Debian: apt-get install curl), then run $command again."
    echo "$command: fetching $axe"
    curl -fsSL --retry 3 -o "target/$axe.tgz" "https://registry.npmjs.org/axe-core/-/$axe.tgz" ||
        fail "$axe could not be fetched from registry.npmjs.org: check the network, then run $command again"
    if ! echo "$sum  target/$axe.tgz" | sha512sum --check --status; then
        rm -f "target/$axe.tgz"
        fail "$axe as fetched is not what its registry published; run $command again"
    fi
    rm -rf target/axe.new
    mkdir target/axe.new && tar xzf "target/$axe.tgz" -C target/axe.new --strip-components=1 &&
        mv target/axe.new "target/$axe" || fail "target/$axe.tgz could not be unpacked"
}
