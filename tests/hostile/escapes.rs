//! Words in a job that could speak to the terminal never reach it.

use scantling::catalog::Catalog;
use scantling::job::demo::DEMOS;
use scantling::job::document::Document;
use scantling::plan::plan;
use scantling::report::{Seen, VIEWS, text};

/// Escapes as TOML writes them: colour, bell, title, and turned text.
const ESCAPES: [&str; 4] = ["\\u001b[31m", "\\u0007", "\\u001b]0;x\\u0007", "\\u202e"];

#[test]
fn an_escape_in_any_word_of_a_job_is_refused() {
    let catalog = Catalog::built_in().expect("the built-in data reads");
    for demo in DEMOS {
        for (index, quote) in demo.text.match_indices("\"").skip(1).step_by(2).enumerate() {
            let escape = ESCAPES[index % ESCAPES.len()];
            let text = format!("{}{escape}{}", &demo.text[..quote.0], &demo.text[quote.0..]);
            assert!(
                Document::read(demo.name, &text, &catalog).is_err(),
                "{} takes an escape near byte {}",
                demo.name,
                quote.0
            );
        }
    }
}

/// A name of harmless signs that mean something elsewhere is shown as it is.
#[test]
fn markup_in_a_name_is_only_text() {
    let catalog = Catalog::built_in().expect("the built-in data reads");
    let demo = DEMOS[0];
    let text = demo.text.replacen("name = \"", "name = \"<b>&amp; ' ", 1);
    let document = Document::read(demo.name, &text, &catalog).expect("still a job");
    let plan = plan(document.job(), &catalog);
    let seen = Seen { job: document.job(), catalog: &catalog, plan: &plan };
    for kind in VIEWS {
        let shown = text::view(&kind.shown(seen));
        assert!(!shown.contains(|c: char| c.is_control() && c != '\n'), "{}", kind.name);
    }
}

/// A job may come from someone else: where it reads from is said.
#[test]
fn a_picture_outside_the_folder_is_told() {
    let catalog = Catalog::built_in().expect("the built-in data reads");
    let text = DEMOS.iter().find(|demo| demo.name == "grain-store").expect("it is built in").text;
    let told = |text: &str| {
        let document = Document::read("job.toml", text, &catalog).expect("still a job");
        let findings = plan(document.job(), &catalog).findings;
        findings.into_iter().filter(|it| it.message.contains("outside the job's folder")).count()
    };
    assert_eq!(told(text), 0);
    for file in ["../photos/B2_grainstore_track.jpg", "/B2_grainstore_track.jpg"] {
        let moved = text.replace("\"photos/B2_grainstore_track.jpg\"", &format!("\"{file}\""));
        assert_ne!(moved, text);
        assert_eq!(told(&moved), 1, "{file}");
    }
}
