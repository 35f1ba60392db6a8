//! Outside checks: clearances.
//!
//! Sources: NEM 102 edition 2017 and NEM 103 edition 2016 (READ); Washington
//! Administrative Code 480-60 (READ from the state's site); NMRA S-8 (READ, an
//! older edition); AAR plates (READ at second hand, from equipment registers);
//! the trackman's chord of 62 ft (MEMORY, track handbooks). Reaches are COMPUTED
//! from the geometry of two trucks on a curve.

use scantling::catalog::Catalog;
use scantling::catalog::clearances::Clearances;
use scantling::clearance::body::{Block, Body, Solid};
use scantling::clearance::chain::{Chain, Piece};
use scantling::clearance::section::Section;
use scantling::clearance::sweep::Sweep;
use scantling::quantity::{ModelLength, PrototypeLength, Ratio, Scale};
use scantling::site::reach;

fn data() -> Clearances {
    (*Catalog::built_in().unwrap().clearances).clone()
}

fn scale(numerator: u64, denominator: u64) -> Scale {
    Scale::new("test", Ratio::new(numerator, denominator).unwrap())
}

/// 3.5 mm to the foot.
fn ho() -> Scale {
    scale(3048, 35)
}

fn near(found: f64, expected: f64, slack: f64) {
    assert!((found - expected).abs() <= slack, "found {found}, expected {expected}");
}

/// R2-01, R2-02: NEM 102 H0, and read back to full size at 1:87.
#[test]
fn nem_102_is_looked_up() {
    let data = data();
    let h0 = data.outline("NEM H0").unwrap();
    let millimetres = [&h0.main_width, &h0.shoulder, &h0.top, &h0.wire_top];
    let found: Vec<String> = millimetres.iter().map(|it| it.text().to_owned()).collect();
    assert_eq!(found, ["48 mm", "45 mm", "59 mm", "65 mm"]);
    let full: PrototypeLength = scale(87, 1).enlarge(h0.main_width.length());
    near(full.in_millimetres(), 4176.0, 1e-9);
    assert_eq!(data.outlines.len(), 8);
    // The 45 degree corner ends below the top in every size of the sheet.
    for outline in &data.outlines {
        assert!(
            Section::new(
                outline
                    .points(false)
                    .iter()
                    .map(|point| point.map(ModelLength::in_inches))
                    .collect()
            )
            .is_some(),
            "{}",
            outline.key
        );
    }
}

/// R2-03, R2-04, R2-05: NEM 103, printed and between two radii (its note 1).
#[test]
fn nem_103_is_looked_up_and_interpolated() {
    let data = data();
    let of = |outline: &str, radius: f64, group: &str| {
        data.widening(outline, ModelLength::millimetres(radius), group)
            .map(ModelLength::in_millimetres)
    };
    for (group, wider) in [("A", 4.0), ("B", 6.0), ("C", 9.0)] {
        near(of("NEM H0", 600.0, group).unwrap(), wider, 1e-9);
    }
    let wide = |outline: &str| data.outline(outline).unwrap().main_width.length().in_millimetres();
    near(wide("NEM H0") + 2.0 * of("NEM H0", 600.0, "B").unwrap(), 60.0, 1e-9);
    near(of("NEM N", 225.0, "B").unwrap(), 5.0, 1e-9);
    near(wide("NEM N") + 2.0 * of("NEM N", 225.0, "B").unwrap(), 37.0, 1e-9);
    near(of("NEM H0", 650.0, "A").unwrap(), 3.5, 1e-9);
    assert_eq!(of("NEM H0", 349.0, "A"), None, "the sheet prints no value");
    assert_eq!(of("NEM H0", 350.0, "C"), None);
    near(of("NEM H0", 9000.0, "C").unwrap(), 0.0, 1e-9);
    // Every column of the sheet falls or stays level as the radius grows.
    for outline in &data.outlines {
        for group in ["A", "B", "C"] {
            let mut last = f64::INFINITY;
            for radius in (150..4200).step_by(25) {
                if let Some(wider) = of(&outline.key, f64::from(radius), group) {
                    assert!(wider <= last + 1e-9, "{} {group} {radius}", outline.key);
                    last = wider;
                }
            }
        }
    }
}

#[test]
fn cars_have_their_group() {
    let data = data();
    let group = |length: f64, centres: f64| {
        let metres = PrototypeLength::metres;
        data.group(metres(length), metres(centres)).unwrap().key.clone()
    };
    assert_eq!(group(12.5, 9.1), "A");
    assert_eq!(group(24.2, 17.2), "B");
    assert_eq!(group(25.9, 18.1), "C");
    assert_eq!(group(40.0, 30.0), "C");
}

/// R2-06, R2-07: an 85 ft car on 24 in, HO.
#[test]
fn reach_on_a_curve_as_worked() {
    let model = |feet: f64| ho().reduce(PrototypeLength::feet(feet));
    let radius = ModelLength::inches(24.0);
    let found = reach(radius, model(85.0), model(59.5), model(10.0)).unwrap();
    near(found.inside.in_millimetres(), 26.458_556, 1e-6);
    near(found.outside.in_millimetres(), 26.187_234, 1e-6);
    let width = model(10.0) / 2.0;
    near((found.inside - width).in_millimetres(), 8.958_556, 1e-6);
    // The envelope carried along an arc is the same.
    let chain = Chain::new([0.0; 2], 0.0, &[Piece::arc(24.0, 1.0)]).unwrap();
    let half = model(85.0).in_inches() / 2.0;
    let section = Section::rectangle(width.in_inches(), 0.0, 2.0).unwrap();
    let body =
        Body { centres: model(59.5).in_inches(), blocks: vec![Block::new([-half, half], section)] };
    let sweep = Sweep::new(&chain, body, 0.0).unwrap();
    near(sweep.reach(12.0, 1.0, true).unwrap() * 25.4, 26.458_556, 1e-3);
    near(sweep.reach(12.0, 1.0, false).unwrap() * 25.4, 26.187_234, 1e-3);
}

/// The reach table of the trade, model inches at 1:87.1 (COMPUTED there).
#[test]
fn the_reach_table_of_the_trade() {
    let scale = scale(871, 10);
    let cars = [(41.0, 30.0), (51.0, 40.0), (61.0, 46.0), (85.0, 59.5)];
    let rows: [(f64, [(f64, f64); 4]); 5] = [
        (18.0, [(0.808, 0.783), (0.901, 0.808), (0.970, 0.881), (1.162, 1.134)]),
        (22.0, [(0.786, 0.767), (0.862, 0.788), (0.918, 0.849), (1.074, 1.059)]),
        (24.0, [(0.778, 0.761), (0.848, 0.780), (0.899, 0.837), (1.041, 1.031)]),
        (30.0, [(0.760, 0.748), (0.816, 0.763), (0.857, 0.809), (0.970, 0.966)]),
        (36.0, [(0.748, 0.738), (0.794, 0.752), (0.829, 0.790), (0.923, 0.922)]),
    ];
    let model = |feet: f64| scale.reduce(PrototypeLength::feet(feet));
    for (radius, row) in rows {
        let chain = Chain::new([0.0; 2], 0.0, &[Piece::arc(radius, 1.5)]).unwrap();
        for ((length, centres), (inside, outside)) in cars.into_iter().zip(row) {
            let half = model(length).in_inches() / 2.0;
            let section = Section::rectangle(model(5.0).in_inches(), 0.0, 2.0).unwrap();
            let blocks = vec![Block::new([-half, half], section)];
            let body = Body { centres: model(centres).in_inches(), blocks };
            let sweep = Sweep::new(&chain, body, 0.0).unwrap();
            near(sweep.reach(radius * 0.75, 1.0, true).unwrap(), inside, 0.001);
            near(sweep.reach(radius * 0.75, 1.0, false).unwrap(), outside, 0.001);
        }
    }
}

/// R2-08, R2-09: degree of curve by chords of 100 ft; the 62 ft chord.
#[test]
fn degrees_of_curve_are_radii() {
    let radius = |degrees: f64| PrototypeLength::feet(50.0 / (degrees / 2.0).to_radians().sin());
    near(radius(10.0).in_feet(), 573.69, 0.01);
    near(scale(48, 1).reduce(radius(10.0)).in_inches(), 143.42, 0.01);
    // A body of no width on trucks 62 ft apart reaches in by the mid-ordinate.
    let one = radius(1.0);
    let as_model = ModelLength::feet(one.in_feet());
    let chord = ModelLength::feet(62.0);
    let found = reach(as_model, chord, chord, ModelLength::ZERO).unwrap();
    near(found.inside.in_inches(), 1.0064, 1e-3);
}

/// R2-10, R2-11, R2-12, R2-15: the state's rules on the model.
#[test]
fn a_states_rules_on_the_model() {
    let data = data();
    let rule = data.rule("WAC 480-60").unwrap();
    let side = rule.side(PrototypeLength::feet(10.0)).unwrap();
    let overhead = rule.overhead.as_ref().unwrap().length();
    near(ho().reduce(side).in_millimetres(), 29.75, 1e-9);
    near(ho().reduce(overhead).in_millimetres(), 78.75, 1e-9);
    near(scale(48, 1).reduce(side).in_inches(), 2.125, 1e-12);
    near(scale(48, 1).reduce(overhead).in_inches(), 5.625, 1e-12);
    let platform = rule.platform(PrototypeLength::feet(4.0), None).unwrap();
    near(scale(64, 1).reduce(platform).in_inches(), 1.359_375, 1e-12);
    let for_ice = rule.platform(PrototypeLength::feet(4.5), Some("refrigerator loading"));
    near(for_ice.unwrap().in_feet(), 8.0, 1e-12);
    assert_eq!(rule.platform(PrototypeLength::feet(4.5), None), None);
    near(rule.platform(PrototypeLength::inches(8.0), None).unwrap().in_inches(), 56.0, 1e-9);
    let narrow = data.rule("WAC 480-60 narrow").unwrap();
    near(narrow.side(PrototypeLength::feet(7.5)).unwrap().in_inches(), 82.0, 1e-9);

    // A wall at 29.5 mm from straight track is short by 0.25 mm.
    let millimetres = |value: f64| value / 25.4;
    let chain = Chain::new([0.0; 2], 0.0, &[Piece::straight(40.0)]).unwrap();
    let reduced = |full: PrototypeLength| ho().reduce(full).in_inches();
    let section = Section::rectangle(reduced(side), 0.0, reduced(overhead)).unwrap();
    let half = reduced(PrototypeLength::feet(20.5));
    let body = Body {
        centres: reduced(PrototypeLength::feet(30.0)),
        blocks: vec![Block::new([-half, half], section)],
    };
    let sweep = Sweep::new(&chain, body, 0.0).unwrap();
    let out = millimetres(29.5);
    let wall = sweep.nearest(&Solid::line([10.0, out, 1.0], [20.0, out, 1.0]));
    near(wall.clear * 25.4, -0.25, 1e-6);
}

/// R2-13: AAR plate C in HO.
#[test]
fn plate_c_on_the_model() {
    let data = data();
    let plate = data.plates.iter().find(|plate| plate.key == "C").unwrap();
    near(ho().reduce(plate.width.length()).in_millimetres(), 37.3333, 1e-4);
    near(ho().reduce(plate.height.length()).in_millimetres(), 54.25, 1e-4);
}

/// R2-14: O tangent track centres of S-8, read back.
#[test]
fn track_centres_read_back() {
    let full: PrototypeLength = scale(48, 1).enlarge(ModelLength::inches(3.25));
    near(full.in_feet(), 13.0, 1e-12);
}
