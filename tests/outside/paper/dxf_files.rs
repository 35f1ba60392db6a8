//! The DXF read back with the `dxf` crate.

use dxf::Drawing as Read;
use dxf::entities::EntityType;
use scantling::drawing::kerf::compensated;
use scantling::drawing::{Area, Drawing, Layer, Point, Run};
use scantling::quantity::PaperLength;
use scantling::report::templates::Wish;
use scantling::report::templates::files::{Format, files};
use scantling::writers::dxf::{DxfUnit, Version, write};

use super::{Box2, Made, part_sizes};

/// Layer, points, closed.
type Contour = (String, Vec<[f64; 2]>, bool);

fn read(text: &str) -> Read {
    Read::load(&mut text.as_bytes()).unwrap()
}

fn contours(drawing: &Read) -> Vec<Contour> {
    let contour = |entity: &dxf::entities::Entity| {
        let layer = entity.common.layer.clone();
        match &entity.specific {
            EntityType::Polyline(line) => {
                let points = line.vertices().map(|one| [one.location.x, one.location.y]);
                Some((layer, points.collect(), line.is_closed()))
            }
            EntityType::LwPolyline(line) => {
                let points = line.vertices.iter().map(|one| [one.x, one.y]);
                Some((layer, points.collect(), line.is_closed()))
            }
            _ => None,
        }
    };
    drawing.entities().filter_map(contour).collect()
}

fn square_with_a_hole() -> Drawing {
    let inches = PaperLength::inches;
    let mut drawing = Drawing::default();
    drawing.part(Area::new(Point::default(), inches(3.0), inches(3.0)));
    let at = Point::new(inches(4.0), inches(1.0));
    drawing.part(Area::new(at, inches(2.0), inches(2.0)));
    let at = Point::new(inches(0.5), inches(0.5));
    let hole = Area::new(at, inches(2.0), inches(2.0));
    drawing.closed(Layer::Through, &hole.corners(), Run::Hole);
    drawing.line(Layer::Scribe, &[Point::default(), Point::new(inches(3.0), inches(3.0))]);
    drawing
}

/// A beam of 7 thou runs on the line: a 2.000 in square is drawn 2.007, a hole
/// of 2.000 is drawn 1.993 (COMPUTED, from the rule of laser services, READ).
#[test]
fn a_kerf_of_seven_thou_goes_half_outside_and_half_inside() {
    let drawing = compensated(&square_with_a_hole(), PaperLength::thou(7.0)).unwrap();
    for version in [Version::R12, Version::R2000] {
        let found = contours(&read(&write(&drawing, version, DxfUnit::Inches, &[])));
        let closed: Vec<[f64; 2]> =
            found.iter().filter(|one| one.2).map(|one| Box2::of(&one.1).size()).collect();
        for wanted in [3.007, 2.007, 1.993] {
            let is = |size: &&[f64; 2]| {
                (size[0] - wanted).abs() < 1e-6 && (size[1] - wanted).abs() < 1e-6
            };
            assert_eq!(closed.iter().filter(is).count(), 1, "{wanted} in {closed:?}");
        }
        let scribed: Vec<&Contour> = found.iter().filter(|one| one.0 == "scribe").collect();
        assert_eq!(scribed.len(), 1);
        assert!(!scribed[0].2, "a line to scribe stays open");
    }
}

/// R9-08: $INSUNITS (the format owner's variable reference, READ): 1 in, 4 mm. R12 has
/// no such field.
#[test]
fn the_unit_stands_in_the_file() {
    let drawing = square_with_a_hole();
    for (unit, code, wide) in [(DxfUnit::Inches, 1, 6.0), (DxfUnit::Millimetres, 4, 152.4)] {
        let found = read(&write(&drawing, Version::R2000, unit, &[]));
        assert_eq!(found.header.version, dxf::enums::AcadVersion::R2000);
        assert_eq!(found.header.default_drawing_units as i16, code);
        let extent =
            found.header.maximum_drawing_extents.x - found.header.minimum_drawing_extents.x;
        assert!((extent - wide).abs() < 1e-6);
        let text = write(&drawing, Version::R12, unit, &[]);
        let found = read(&text);
        assert_eq!(found.header.version, dxf::enums::AcadVersion::R12);
        assert!(!text.contains("$INSUNITS") && text.contains(unit.word()));
        let all: Vec<[f64; 2]> = contours(&found).into_iter().flat_map(|one| one.1).collect();
        assert!((Box2::of(&all).size()[0] - wide).abs() < 1e-6);
    }
}

#[test]
fn layers_are_named_by_what_is_done() {
    let made = Made::demo("river-cannery");
    let wish = Wish::of(made.seen()).unwrap();
    for format in [Format::Dxf, Format::Dxf2000] {
        let mut boxes = Vec::new();
        for file in files(made.seen(), &wish, format).unwrap() {
            let drawing = read(std::str::from_utf8(&file.bytes).unwrap());
            let mut layers: Vec<String> =
                drawing.layers().map(|layer| layer.name.clone()).collect();
            layers.sort();
            assert_eq!(layers, ["0", "mark", "scribe", "through"], "{}", file.name);
            for (layer, points, closed) in contours(&drawing) {
                assert!(["through", "scribe", "mark"].contains(&layer.as_str()));
                // What is cut through is a part or a hole: it closes.
                assert!(closed || layer != "through", "{} has an open cut", file.name);
                if closed {
                    boxes.push(Box2::of(&points));
                }
            }
        }
        for (label, [wide, high]) in part_sizes(&made) {
            let wanted = [wide / 25.4, high / 25.4];
            assert!(boxes.iter().any(|one| one.is(wanted, 0.0004)), "{label}");
        }
    }
}
