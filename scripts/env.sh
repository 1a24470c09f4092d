# shellcheck shell=bash
# What the scripts share: finding and installing what a build needs, and the environment it is built in.
# Meant to be sourced. By hand:  . scripts/env.sh && lean_build  and then any go command, so that it shares the
# scripts' build cache.

say() { printf '%s\n' "$*" >&2; }

fail() {
	say "error: $1"
	shift
	for line in "$@"; do say "hint: $line"; done
	exit 1
}

# as_root runs a command as root, directly or through sudo.
as_root() {
	if [ "$(id -u)" -eq 0 ]; then
		"$@"
	else
		sudo "$@"
	fi
}

can_be_root() { [ "$(id -u)" -eq 0 ] || command -v sudo >/dev/null 2>&1; }

# missing_packages prints the Debian packages that a build lacks, one a line. It asks no package tool.
missing_packages() {
	command -v g++ >/dev/null 2>&1 || echo g++
	if ! command -v pkg-config >/dev/null 2>&1; then
		echo pkg-config
		echo libopencv-dev
		echo libjpeg-dev
		return
	fi
	pkg-config --exists opencv4 || echo libopencv-dev
	pkg-config --exists libjpeg || echo libjpeg-dev
}

# install_missing installs what missing_packages names, without recommends; where nothing is missing it does nothing.
# The linker lld, which keeps the program small, comes along then but is not asked for on its own.
install_missing() {
	local missing=()
	mapfile -t missing < <(missing_packages)
	[ "${#missing[@]}" -eq 0 ] && return 0
	command -v apt-get >/dev/null 2>&1 ||
		fail "this system has no apt-get, and the build lacks: ${missing[*]}" \
			"install OpenCV 4.6 and libjpeg-turbo with their headers, a C++ compiler and pkg-config by your system's own means"
	can_be_root ||
		fail "the build lacks ${missing[*]}, and neither root nor sudo is at hand to install it" \
			"as root: apt-get install --no-install-recommends ${missing[*]} lld"
	command -v ld.lld >/dev/null 2>&1 || missing+=(lld)
	say "installing ${missing[*]} ..."
	as_root apt-get update -q >&2 || say "the package lists could not be renewed; trying with the old ones"
	as_root env DEBIAN_FRONTEND=noninteractive apt-get install -q -y --no-install-recommends "${missing[@]}" >&2
}

# want_chromium installs the browser that tests of the desk drive. Without it they are skipped, so nothing here fails.
want_chromium() {
	local name
	for name in chromium chromium-browser google-chrome; do
		if command -v "$name" >/dev/null 2>&1; then return 0; fi
	done
	if ! command -v apt-get >/dev/null 2>&1 || ! can_be_root; then return 0; fi
	say "installing chromium, for the tests of the desk ..."
	if ! { as_root apt-get update -q && as_root env DEBIAN_FRONTEND=noninteractive timeout 300 apt-get install -q -y --no-install-recommends chromium; } >&2; then
		say "chromium could not be installed; the tests in a browser will be skipped"
	fi
}

# want_strace installs what stops programs at their calls of the system. Without it those tests are skipped, so nothing here fails.
want_strace() {
	if command -v strace >/dev/null 2>&1 || ! command -v apt-get >/dev/null 2>&1 || ! can_be_root; then return 0; fi
	say "installing strace, for the tests of kills ..."
	if ! { as_root apt-get update -q && as_root env DEBIAN_FRONTEND=noninteractive timeout 300 apt-get install -q -y --no-install-recommends strace; } >&2; then
		say "strace could not be installed; the tests that need it will be skipped"
	fi
}

need_go() {
	command -v go >/dev/null 2>&1 || fail "there is no Go here" "install Go 1.26 or later"
}

# lean_build sets an environment in which only the few OpenCV libraries that are used get linked: about 140 shared objects
# at start instead of 265. Where lld cannot do that, gocv's own plain settings stay in force.
lean_build() {
	local libs lean
	command -v ld.lld >/dev/null 2>&1 || return 0
	libs=$(pkg-config --libs opencv4) || return 0
	lean="-O2 -g -fuse-ld=lld -Wl,--gc-sections,--as-needed $libs"
	# shellcheck disable=SC2086 # the flags are words
	echo 'int main() { return 0; }' | g++ -x c++ - $lean -o /dev/null >/dev/null 2>&1 || return 0
	CGO_CPPFLAGS=$(pkg-config --cflags-only-I opencv4)
	CGO_CXXFLAGS="-O2 -g --std=c++11 -ffunction-sections -fdata-sections"
	CGO_LDFLAGS=$lean
	case " ${GOFLAGS:-} " in
	*-tags=customenv*) ;;
	*) GOFLAGS="${GOFLAGS:+$GOFLAGS }-tags=customenv" ;;
	esac
	export CGO_CPPFLAGS CGO_CXXFLAGS CGO_LDFLAGS GOFLAGS
}

# prepare does all of the above, for a script that builds.
prepare() {
	need_go
	install_missing
	lean_build
	# A checkout that belongs to someone else makes git refuse, and go build with it.
	if ! git -C "$1" rev-parse HEAD >/dev/null 2>&1; then
		GOFLAGS="${GOFLAGS:+$GOFLAGS }-buildvcs=false"
		export GOFLAGS
	fi
}
