//! The rooms of `src/` may use only what stands before them. This reads every
//! `crate::` path and fails with the reason when a room reaches up.

use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};

/// The rooms in their order; a room may use those before it.
const ROOMS: &[&str] = &[
    "quantity",
    "estimate",
    "solve",
    "finding",
    "disk",
    "catalog",
    "sums",
    "job",
    "photo",
    "survey",
    "elevation",
    "stock",
    "building",
    "site",
    "compress",
    "scaling",
    "takeoff",
    "order",
    "cutting",
    "clearance",
    "lamps",
    "mockup",
    "drawing",
    "writers",
    "bench",
    "plan",
    "report",
    "cli",
    "tui",
];

/// What a room may not use although it stands before it, with the reason.
const WALLS: &[(&str, &[&str], &str)] = &[(
    "solve",
    &["quantity", "estimate"],
    "solve is mathematics without trade words: it knows numbers, not lengths",
)];

/// What a room may use although it stands after it, with the reason.
const DOORS: &[(&str, &str, &str)] =
    &[("cli", "tui", "without a verb the command line opens the terminal program")];

#[test]
fn no_room_reaches_up() {
    let order: BTreeMap<&str, usize> =
        ROOMS.iter().enumerate().map(|(place, room)| (*room, place)).collect();
    let mut wrong = Vec::new();
    let src = Path::new(env!("CARGO_MANIFEST_DIR")).join("src");
    for file in rust_files(&src) {
        let Some(room) = room_of(&src, &file) else { continue };
        let here = *order.get(room.as_str()).unwrap_or_else(|| {
            panic!("src/{room} is not in the table of rooms: give it a place in tests/layers.rs and DEVELOPERS.md")
        });
        let text = fs::read_to_string(&file).expect("a source file is readable");
        for used in rooms_used(&text) {
            let Some(there) = order.get(used.as_str()) else { continue };
            let door = DOORS.iter().any(|(from, to, _)| *from == room && *to == used);
            let walled =
                WALLS.iter().find(|(from, to, _)| *from == room && to.contains(&used.as_str()));
            if let Some((_, _, reason)) = walled {
                wrong.push(format!("{}: uses {used}: {reason}", file.display()));
            } else if *there > here && !door {
                wrong.push(format!(
                    "{}: {room} stands before {used} and may not use it",
                    file.display()
                ));
            }
        }
    }
    assert!(wrong.is_empty(), "rooms that reach up:\n{}", wrong.join("\n"));
}

#[test]
fn uom_stays_in_its_room() {
    let src = Path::new(env!("CARGO_MANIFEST_DIR")).join("src");
    let strangers: Vec<String> = rust_files(&src)
        .into_iter()
        .filter(|file| room_of(&src, file).as_deref() != Some("quantity"))
        .filter(|file| {
            fs::read_to_string(file).expect("a source file is readable").contains("uom::")
        })
        .map(|file| file.display().to_string())
        .collect();
    assert!(strangers.is_empty(), "uom is seen only inside quantity/: {strangers:?}");
}

#[test]
fn the_terminal_and_the_command_line_do_not_know_each_other() {
    let src = Path::new(env!("CARGO_MANIFEST_DIR")).join("src/tui");
    for file in rust_files(&src) {
        let text = fs::read_to_string(&file).expect("a source file is readable");
        assert!(!text.contains("crate::cli"), "{} uses cli", file.display());
    }
}

fn rust_files(folder: &Path) -> Vec<PathBuf> {
    let mut files = Vec::new();
    for entry in fs::read_dir(folder).expect("a folder of the source tree") {
        let path = entry.expect("an entry").path();
        if path.is_dir() {
            files.extend(rust_files(&path));
        } else if path.extension().is_some_and(|ending| ending == "rs") {
            files.push(path);
        }
    }
    files.sort();
    files
}

/// The room a file belongs to; the crate's own front door has none.
fn room_of(src: &Path, file: &Path) -> Option<String> {
    let inside = file.strip_prefix(src).expect("a file of the source tree");
    let first = inside.components().next()?.as_os_str().to_string_lossy().into_owned();
    let room = first.trim_end_matches(".rs").to_owned();
    (!["lib", "main"].contains(&room.as_str())).then_some(room)
}

/// Rooms named after `crate::`, in code and not in comments.
fn rooms_used(text: &str) -> Vec<String> {
    let code: String = text
        .lines()
        .map(|line| line.split("//").next().unwrap_or(""))
        .collect::<Vec<_>>()
        .join(" ");
    let mut used = Vec::new();
    for rest in code.split("crate::").skip(1) {
        if let Some(group) = rest.strip_prefix('{') {
            let inside = group.split('}').next().unwrap_or("");
            used.extend(inside.split(',').map(first_word));
        } else {
            used.push(first_word(rest));
        }
    }
    used
}

fn first_word(text: &str) -> String {
    text.trim_start().chars().take_while(|c| c.is_alphanumeric() || *c == '_').collect()
}
