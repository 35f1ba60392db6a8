# `just` lists what there is; `just ci` is what has to hold before a change lands.

default:
    @just --list

# The README's test command.
test:
    cargo test

# All that has to hold.
ci:
    bash .ci/run

# What takes longer: benches, fuzz, package, advisories.
more:
    bash .ci/more

# Opens a job in the terminal; the built-in demo without one.
open job="":
    cargo run --release -- {{job}}

# Stored screens that changed on purpose are accepted by hand.
screens:
    INSTA_UPDATE=always cargo test --test screens

# A PNG of every view, dark and light.
screenshots:
    bash screenshots/make.sh

# Times, by subject: survey, desk, plan, cutting, clearance, photo.
bench subject:
    cargo bench --manifest-path benches/Cargo.toml --bench {{subject}}
