#!/bin/sh
# A picture of every view, dark and light, in this folder. With the path of a
# program, of that one; else it is built first. With a name after it, that
# picture alone.
#
# Needs Xvfb, xterm, xdotool, ImageMagick and a font with the dots of braille;
# on Debian and its kin:
#   apt-get install -y --no-install-recommends xvfb xterm xdotool imagemagick fonts-dejavu-core
# Two runs make the same pictures to the pixel: the clock and the machine do
# not show, and the cursor does not blink.
set -eu
cd "$(dirname "$0")/.."

missing=
for tool in Xvfb xterm xdotool import; do
    command -v "$tool" >/dev/null || missing="$missing $tool"
done
if [ -n "$missing" ]; then
    echo "missing:$missing" >&2
    echo "install: xvfb xterm xdotool imagemagick fonts-dejavu-core" >&2
    exit 1
fi

program=${1:-}
only=${2:-}
if [ -z "$program" ]; then
    cargo build --release
    program=$(pwd)/target/release/scantling
fi
display=:97
Xvfb "$display" -screen 0 1400x900x24 -nolisten tcp >/dev/null 2>&1 &
server=$!
trap 'kill "$server" 2>/dev/null || true' EXIT
DISPLAY=$display
export DISPLAY
tries=0
until xdotool getmouselocation >/dev/null 2>&1; do
    tries=$((tries + 1))
    [ "$tries" -lt 100 ] || { echo "Xvfb does not start" >&2; exit 1; }
    sleep 0.1
done

# The job shown; none shows the start.
job=grain-store

# $1 picture, $2 palette, $3 columns x rows, then the keys.
picture() {
    name=$1 ground=$2 size=$3
    shift 3
    [ -z "$only" ] || [ "$only" = "$name" ] || return 0
    home=$(mktemp -d)
    case $ground in
        dark) paper=black ink=white ;;
        *) paper=white ink=black ;;
    esac
    # shellcheck disable=SC2086
    env -u COLORFGBG -u NO_COLOR -u TMUX HOME="$home" XDG_STATE_HOME="$home" LC_ALL=C.UTF-8 \
        xterm -u8 -ti vt340 -tn xterm-256color -xrm 'XTerm*numColorRegisters: 256' -fa 'DejaVu Sans Mono' -fs 11 -geometry "$size+0+0" -b 0 -bw 0 -bg "$paper" -fg "$ink" \
        -xrm 'XTerm*cursorBlink: false' -xrm 'XTerm*internalBorder: 0' -T scantling \
        -e env COLORTERM=truecolor "$program" $job &
    terminal=$!
    window=$(xdotool search --sync --onlyvisible --class xterm | tail -1)
    xdotool windowfocus "$window" mousemove 1399 899
    # What is typed while the terminal is still asked is not for the program.
    sleep 1
    wait_still "$window"
    for key in "$@"; do
        xdotool key --window "$window" "$key"
        wait_still "$window"
    done
    # Photographs are opened, and intervals drawn, beside the screen.
    case $name in photo | picture) sleep 10 && wait_still "$window" ;; esac
    import -window "$window" "screenshots/$name-$ground.png"
    echo "screenshots/$name-$ground.png"
    kill "$terminal" 2>/dev/null || true
    wait "$terminal" 2>/dev/null || true
    rm -rf "$home"
}

# Waits until some pictures in a row are the same.
wait_still() {
    before=
    same=0
    for _ in $(seq 100); do
        now=$(import -window "$1" rgba:- | cksum)
        if [ "$now" = "$before" ]; then same=$((same + 1)); else same=0; fi
        [ "$same" -ge 5 ] && return 0
        before=$now
        sleep 0.05
    done
}

# The views after the bench, in the order of the pole.
views=$("$program" --help | sed -n '/^Commands:/,/^$/p' | awk '{print $1}' |
    grep -v -x -e Commands: -e new -e bench -e rack -e settings -e completions -e manual -e keys -e set -e add -e remove \
        -e help -e '' || true)

for ground in dark light; do
    picture bench "$ground" 100x30 shift+Tab 8 space f t
    picture large "$ground" 100x30 shift+Tab 8 space f t Return
    picture help "$ground" 100x30 question
    job=
    picture start "$ground" 100x30
    picture new-job "$ground" 100x30 Return
    job=creamery
    picture picture "$ground" 100x30 Tab Return plus plus
    job=grain-store
    picture small "$ground" 80x24 Down Down
    picture wide "$ground" 150x45 Tab Tab Tab Tab Tab Down
    keys=
    for view in $views; do
        # shellcheck disable=SC2086
        picture "$view" "$ground" 100x30 $keys Down Down
        keys="$keys Tab"
    done
done
