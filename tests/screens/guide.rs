//! The guide is held to what it says: every command in it is run, every key is
//! pressed, and what it says is to be seen is looked for.

use std::path::Path;
use std::process::Command;

use crate::desk::Desk;

const GUIDE: &str = include_str!("../../docs/guide.md");

/// The fenced blocks of a kind: the words after its name, and its lines.
fn blocks(kind: &str) -> Vec<(String, Vec<String>)> {
    let mut found = Vec::new();
    let mut lines = GUIDE.lines();
    while let Some(line) = lines.next() {
        let Some(head) = line.strip_prefix("```") else { continue };
        let body: Vec<String> =
            lines.by_ref().take_while(|line| *line != "```").map(str::to_owned).collect();
        if let Some(words) = head.strip_prefix(kind) {
            found.push((words.trim().to_owned(), body));
        }
    }
    found
}

/// A command as a shell takes it apart: by spaces, quotes kept together.
fn words(command: &str) -> Vec<String> {
    let mut words = vec![String::new()];
    let mut quoted = false;
    for letter in command.chars() {
        match letter {
            '"' => quoted = !quoted,
            ' ' if !quoted => words.push(String::new()),
            letter => words.last_mut().expect("one at least").push(letter),
        }
    }
    words.retain(|word| !word.is_empty());
    words
}

/// One command; its lines must come in what it prints.
fn run(command: &str, expected: &[&str], home: &Path) {
    let words = words(command);
    assert_eq!(words[0], "scantling", "{command}");
    let out = Command::new(env!("CARGO_BIN_EXE_scantling"))
        .args(&words[1..])
        .current_dir(home)
        .env("HOME", home)
        .env_remove("XDG_CONFIG_HOME")
        .env_remove("XDG_STATE_HOME")
        .output()
        .expect("it runs");
    let said = String::from_utf8_lossy(&out.stdout).into_owned();
    assert!(out.status.success(), "{command}: {}", String::from_utf8_lossy(&out.stderr));
    for line in expected {
        assert!(said.contains(line.trim()), "{command} does not print: {line}\n{said}");
    }
}

#[test]
fn every_command_of_the_guide_does_what_it_says() {
    let home = tempfile::tempdir().expect("a folder");
    let mut count = 0;
    for (_, lines) in blocks("console") {
        let mut at = 0;
        while at < lines.len() {
            let command = lines[at].strip_prefix("$ ").expect("a command first").to_owned();
            let end = (at + 1..lines.len()).find(|at| lines[*at].starts_with("$ "));
            let end = end.unwrap_or(lines.len());
            let expected: Vec<&str> = lines[at + 1..end].iter().map(String::as_str).collect();
            run(&command, &expected, home.path());
            count += 1;
            at = end;
        }
    }
    assert!(count >= 8, "the guide has {count} commands");
}

/// A block of keys names a built-in job; each line is keys, then what shows.
#[test]
fn every_key_of_the_guide_does_what_it_says() {
    let mut count = 0;
    for (job, lines) in blocks("keys") {
        let mut desk = Desk::demo(&job, (120, 40));
        for line in lines {
            let (keys, shown) = line.split_once(" -> ").expect("keys -> what shows");
            desk.keys(keys);
            assert!(desk.shows(shown.trim()), "{job}: {line}\n{}", desk.picture());
            count += 1;
        }
    }
    assert!(count >= 8, "the guide has {count} lines of keys");
}

/// Pictures of the guide are those the script makes.
#[test]
fn every_picture_of_the_guide_is_there() {
    for part in GUIDE.split("](../").skip(1) {
        let name = part.split(')').next().unwrap_or_default();
        assert!(Path::new(env!("CARGO_MANIFEST_DIR")).join(name).exists(), "{name}");
    }
}
