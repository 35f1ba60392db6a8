//! The SVG read back with `roxmltree`.

use scantling::report::templates::Wish;
use scantling::report::templates::files::{Format, files};

use super::{Box2, Made, part_sizes};

/// Points of a path of straight lines.
fn points(data: &str) -> Vec<[f64; 2]> {
    let numbers: Vec<f64> = data
        .split(|one: char| one.is_ascii_alphabetic() || one == ' ')
        .filter(|word| !word.is_empty())
        .map(|word| word.parse().unwrap())
        .collect();
    numbers.chunks(2).map(|pair| [pair[0], pair[1]]).collect()
}

/// Boxes of the closed lines that are cut through, in millimetres.
pub(super) fn through(text: &str) -> Vec<Box2> {
    let document = roxmltree::Document::parse(text).unwrap();
    let root = document.root_element();
    // One user unit is a millimetre: the size in mm is that of the view box.
    let size = |key: &str| root.attribute(key).unwrap().trim_end_matches("mm").to_owned();
    let view = root.attribute("viewBox").unwrap();
    assert_eq!(view, format!("0 0 {} {}", size("width"), size("height")));
    let group = root.children().find(|node| node.attribute("id") == Some("through")).unwrap();
    let lines = group.children().filter_map(|node| node.attribute("d"));
    lines.filter(|data| data.ends_with('Z')).map(|data| Box2::of(&points(data))).collect()
}

#[test]
fn parts_have_their_size_in_millimetres() {
    for name in ["river-cannery", "grain-store", "creamery"] {
        let made = Made::demo(name);
        let wish = Wish::of(made.seen()).unwrap();
        let written = files(made.seen(), &wish, Format::Svg).unwrap();
        let boxes: Vec<Box2> = written
            .iter()
            .flat_map(|file| through(std::str::from_utf8(&file.bytes).unwrap()))
            .collect();
        for (label, size) in part_sizes(&made) {
            assert!(boxes.iter().any(|one| one.is(size, 0.01)), "{name} {label} {size:?}");
        }
    }
}

#[test]
fn every_file_has_a_test_square_that_is_not_compensated() {
    let made = Made::demo("river-cannery");
    let kerf = scantling::quantity::ModelLength::thou(7.0);
    let wish = Wish { kerf, ..Wish::of(made.seen()).unwrap() };
    for file in files(made.seen(), &wish, Format::Svg).unwrap() {
        let boxes = through(std::str::from_utf8(&file.bytes).unwrap());
        assert!(boxes.iter().any(|one| one.is([50.8, 50.8], 0.001)), "{}", file.name);
        assert!(boxes.iter().any(|one| one.is([25.4, 25.4], 0.001)), "{}", file.name);
    }
    // The parts themselves are larger by the kerf.
    let grown = 7.0 * 0.0254;
    let core = files(made.seen(), &wish, Format::Svg).unwrap();
    let boxes: Vec<Box2> =
        core.iter().flat_map(|file| through(std::str::from_utf8(&file.bytes).unwrap())).collect();
    let floor = part_sizes(&made).into_iter().find(|(label, _)| label == "main/floor-1").unwrap().1;
    assert!(boxes.iter().any(|one| one.is([floor[0] + grown, floor[1] + grown], 0.001)));
}
