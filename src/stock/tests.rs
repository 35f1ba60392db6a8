//! The stock of a small job, by hand-written offers.

use super::*;
use crate::quantity::{PrototypeLength, Ratio};

fn job(more: &str) -> Job {
    let text = format!(
        "[job]\nname = \"shed\"\nscale = \"1:48\"\n\
         [[member]]\nname = \"post\"\nlumber = \"8x8\"\nlength = \"12 ft\"\ncount = 4\n{more}"
    );
    text.parse().expect("a job")
}

fn strip(name: &str, thickness: f64, width: f64) -> Offer {
    Offer {
        name: name.into(),
        material: "wood".into(),
        form: OfferForm::Strip {
            thickness: ModelLength::inches(thickness),
            width: ModelLength::inches(width),
        },
        length: ModelLength::inches(24.0),
        on_hand: false,
        count: None,
        price: None,
        sizes: Vec::new(),
        grain: true,
    }
}

fn offers() -> Vec<Offer> {
    vec![
        strip("1/8 x 1/8", 0.125, 0.125),
        strip("5/32 x 5/32", 5.0 / 32.0, 5.0 / 32.0),
        strip("3/16 x 3/16", 0.1875, 0.1875),
    ]
}

/// PS 20 dry timbers: 3/4 in off (READ): 7.25 in square.
fn dry(nominal: &str) -> Option<Section<crate::quantity::Prototype>> {
    let side = PrototypeLength::inches(7.25);
    (nominal == "8x8").then(|| Section::new(side, side))
}

fn chosen(more: &str) -> Outcome<Choices> {
    let scale = Scale::new("1:48", Ratio::new(48, 1).expect("a ratio"));
    run(&job(more), &Survey::default(), &offers(), &dry, &scale)
}

#[test]
fn a_dry_eight_by_eight_at_quarter_inch_scale() {
    let out = chosen("");
    let post = out.value.of("post").expect("wanted");
    // 7.25 / 48 = 0.15104 in; 5/32 = 0.15625 in (COMPUTED): 3.4 percent over.
    let made = post.taken().expect("taken");
    assert_eq!(
        (made.stock.as_str(), made.verdict),
        ("5/32 x 5/32", Verdict::Warn.min(Verdict::Take))
    );
    assert!((made.worst().in_thou() - 5.208).abs() < 0.01);
    assert!((made.percent() - 3.448).abs() < 0.01);
    assert!(out.findings.is_empty(), "{:?}", out.findings);
}

#[test]
fn beside_the_track_the_post_may_not_grow() {
    let out = chosen("beside-track = true\n");
    let post = out.value.of("post").expect("wanted");
    assert_ne!(post.taken().map(|made| made.stock.as_str()), Some("5/32 x 5/32"));
    assert!(post.taken().is_none_or(|made| made.worst() <= ModelLength::ZERO));
}

#[test]
fn a_pick_by_hand_wins_and_is_told_when_it_is_worse() {
    let pick = "[[stock]]\nmember = \"post\"\nsize = \"1/8 x 1/8\"\nreason = \"on the shelf\"\n";
    let out = chosen(pick);
    let post = out.value.of("post").expect("wanted");
    assert_eq!(post.taken().map(|made| made.stock.as_str()), Some("1/8 x 1/8"));
    assert_eq!(post.picked.as_deref(), Some("on the shelf"));
    assert!(out.findings[0].message.contains("-26 thou"), "{}", out.findings[0].message);
}

#[test]
fn unknown_stock_and_unknown_lumber_are_named() {
    let pick = "[[stock]]\nmember = \"post\"\nsize = \"7 x 9\"\n";
    assert!(chosen(pick).findings[0].message.contains("7 x 9"));
    let odd = "[[member]]\nname = \"beam\"\nlumber = \"7x31\"\nlength = \"9 ft\"\ncount = 1\n";
    assert!(chosen(odd).findings.iter().any(|finding| finding.message.contains("7x31")));
}

#[test]
fn casings_side_by_side_must_come_out_alike() {
    let openings = |pick: &str| {
        format!(
            "[[opening]]\nname = \"door\"\nwhat = \"door\"\nwidth = \"3 ft\"\nheight = \"7 ft\"\n\
             trim = \"6 in\"\n[[opening]]\nname = \"window\"\nwhat = \"window\"\nwidth = \"3 ft\"\n\
             height = \"5 ft\"\ntrim = \"6 in\"\n[trim]\nthickness = \"6 in\"\n{pick}"
        )
    };
    let alike = |out: &Outcome<Choices>| {
        out.findings.iter().filter(|finding| finding.message.contains("meant to be alike")).count()
    };
    assert_eq!(alike(&chosen(&openings(""))), 0);
    let pick = "[[stock]]\nmember = \"window casing\"\nsize = \"5/32 x 5/32\"\n";
    assert_eq!(alike(&chosen(&openings(pick))), 1);
}
