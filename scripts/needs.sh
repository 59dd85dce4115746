# Sourced by the scripts beside it: installs what is missing, does nothing when all of it is there.
# Works on Debian 12 and 13, as root or with sudo; elsewhere it says in one line what to install.

# need WHAT...: makes sure of `pictures` (a Vulkan driver) and `comparisons` (what tests/outside runs on).
need() {
    packages=""
    for what in "$@"; do
        case "$what" in
            pictures)
                has_library libvulkan.so.1 || packages="$packages libvulkan1"
                has_vulkan_driver || packages="$packages mesa-vulkan-drivers"
                ;;
            comparisons)
                has pdfinfo || packages="$packages poppler-utils"
                has python3 && python3 -c 'import ensurepip, venv' 2>/dev/null || packages="$packages python3 python3-venv"
                has node || packages="$packages nodejs"
                has npm || packages="$packages npm"
                has chromium || packages="$packages chromium"
                has Xvfb || packages="$packages xvfb"
                has xdotool || packages="$packages xdotool"
                ;;
        esac
    done
    # shellcheck disable=SC2086  # a list of names
    [ -z "$packages" ] || install $packages
}

has() {
    command -v "$1" >/dev/null 2>&1
}

has_library() {
    PATH="$PATH:/sbin:/usr/sbin" ldconfig -p 2>/dev/null | grep -q "$1"
}

has_vulkan_driver() {
    [ -n "${VK_DRIVER_FILES:-}${VK_ICD_FILENAMES:-}" ] && return
    for file in /usr/share/vulkan/icd.d/*.json /usr/local/share/vulkan/icd.d/*.json /etc/vulkan/icd.d/*.json; do
        [ -e "$file" ] && return
    done
    return 1
}

install() {
    has apt-get || stop "please install what Debian calls: $*"
    if [ "$(id -u)" -eq 0 ]; then
        as_root="env"
    elif has sudo; then
        as_root="sudo env"
    else
        stop "please run once as root: apt-get install $*"
    fi
    echo "installing: $*"
    $as_root apt-get -qq update || stop "apt-get update failed: is there a network? needed: $*"
    $as_root DEBIAN_FRONTEND=noninteractive apt-get -qq install -y --no-install-recommends "$@" >/dev/null ||
        stop "apt-get could not install: $*"
}

stop() {
    echo "$0: $*" >&2
    exit 1
}

# Cargo's folder for what it builds.
target_folder() {
    cargo metadata --no-deps --format-version 1 | sed 's/.*"target_directory":"\([^"]*\)".*/\1/'
}
