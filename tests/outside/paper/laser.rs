//! What no laser may cut is not written for one, and what is written says what
//! to bear in mind (laser service pages, READ; the rest as `data/cautions.toml`
//! says).

use scantling::job::new::{Answers, text};
use scantling::report::templates::files::{Format, cautioned, files};
use scantling::report::templates::{Wish, view};

use super::Made;

/// A job made by five answers, as anybody begins.
fn begun(more: &str) -> Made {
    let text = text(&Answers {
        scale: "1:48".to_owned(),
        front: "48 ft".to_owned(),
        deep: "30 ft".to_owned(),
        eaves: "12 ft".to_owned(),
        ..Answers::default()
    });
    Made::of(&format!("{}\n{more}", text.unwrap()))
}

const LASER: [Format; 3] = [Format::Svg, Format::Dxf, Format::Dxf2000];

#[test]
fn a_styrene_core_is_not_written_for_a_laser_without_a_word() {
    let made = begun("[materials]\nall = [\"styrene\"]\n");
    let wish = Wish::of(made.seen()).unwrap();
    for format in LASER {
        let stop = files(made.seen(), &wish, format).unwrap_err();
        assert!(stop.trouble.contains("styrene is not for a laser"), "{stop}");
        assert!(stop.hint.contains("laser-safe"), "{}", stop.hint);
    }
    // A knife cuts it, and is told of by the verb.
    assert!(files(made.seen(), &wish, Format::Pdf).is_ok());
    assert!(cautioned(made.seen(), &wish, Format::Pdf)[0].contains("away from the hand"));
    let shown = view(made.seen());
    let table = shown.tables.iter().find(|table| table.title == "For a laser").unwrap();
    assert!(table.rows.iter().any(|row| row.texts.iter().any(|cell| cell.contains("refused"))));
}

#[test]
fn the_person_may_say_otherwise_and_the_caution_travels_along() {
    let made = begun("[materials]\nall = [\"styrene\"]\n\n[paper]\nlaser-safe = [\"styrene\"]\n");
    let wish = Wish::of(made.seen()).unwrap();
    for format in LASER {
        let written = files(made.seen(), &wish, format).unwrap();
        let core = written.iter().find(|file| file.name.contains("-core")).unwrap();
        let text = String::from_utf8(core.bytes.clone()).unwrap();
        assert!(text.contains("Cut from styrene"), "{}", core.name);
        assert!(text.contains("Never leave it while it cuts"), "{}", core.name);
    }
    let said = cautioned(made.seen(), &wish, Format::Svg).join("\n");
    assert!(said.contains("Lid shut") && said.contains("put out a fire"), "{said}");
}

#[test]
fn wood_and_card_are_written_with_their_cautions() {
    let made = begun("[materials]\nall = [\"wood\"]\n");
    let wish = Wish::of(made.seen()).unwrap();
    let written = files(made.seen(), &wish, Format::Svg).unwrap();
    for file in &written {
        let text = String::from_utf8(file.bytes.clone()).unwrap();
        assert!(text.contains("<desc>Cut from"), "{}", file.name);
    }
}
