use super::*;

/// The lost creamery's ground, model inches.
fn creamery(radius: f64) -> Ground {
    let outline = vec![[0.0, 0.0], [9.0, 0.0], [7.2, 6.2], [0.0, 6.8]];
    let circle = Circle { centre: [4.0, -31.0], radius, inside: false };
    Ground::new(outline, Some(circle), 0.0).unwrap()
}

fn inches(value: f64) -> ModelLength {
    ModelLength::inches(value)
}

/// Worked reaches at 1:64 for a car of 41 ft over ends, 30 ft centres, 10 ft
/// wide (computed by hand from the formula, trade practice).
#[test]
fn a_car_reaches_out_as_worked() {
    let model = |feet: f64| inches(feet * 12.0 / 64.0);
    for (radius, inside, outside) in
        [(30.0, 1.070, 1.044), (36.0, 1.048, 1.028), (42.0, 1.032, 1.015)]
    {
        let found = reach(inches(radius), model(41.0), model(30.0), model(10.0)).unwrap();
        assert!((found.inside.in_inches() - inside).abs() < 0.0006, "{found:?}");
        assert!((found.outside.in_inches() - outside).abs() < 0.0006, "{found:?}");
    }
    assert_eq!(reach(inches(1.0), inches(3.0), inches(2.5), inches(1.0)), None);
}

#[test]
fn the_creamerys_ground_takes_39_by_30_feet() {
    let ground = creamery(31.169);
    let placed = ground.longest_front(30.0 * 12.0 / 64.0).unwrap();
    assert!((placed.front - 7.318).abs() < 0.005, "{placed:?}");
    assert!((placed.corner[1] - 0.169).abs() < 0.005, "{placed:?}");
    let largest = ground.largest([1.3, 1.3]).unwrap();
    assert!(largest.front >= 39.0 * 12.0 / 64.0 - WITHIN && largest.depth >= 5.625 - WITHIN);
    assert!(largest.front <= 7.318 + WITHIN, "{largest:?}");
    assert!(largest.within <= WITHIN, "{largest:?}");
    let line = ground.longest_front(0.0).unwrap();
    assert!((line.front - 8.95).abs() < 0.005, "{line:?}");
    assert!(ground.longest_front(7.0).is_none());
}

/// 48 by 30 feet does not fit, turned up to 20 degrees either way.
#[test]
fn the_whole_creamery_does_not_fit_at_any_angle() {
    let whole = Ground::new(
        vec![[0.0, 0.0], [9.0, 0.0], [7.2, 6.2], [0.0, 6.8]],
        Some(Circle { centre: [4.0, -31.0], radius: 31.169, inside: false }),
        20.0_f64.to_radians(),
    );
    let placed = whole.unwrap().longest_front(5.625).unwrap();
    assert!(placed.front < 9.0 - WITHIN, "{placed:?}");
    assert!(placed.front >= 7.317, "{placed:?}");
}

#[test]
fn a_concave_ground_is_not_built_across_its_notch() {
    // An L: 10 by 4 along the front, and a leg of 3 by 10.
    let outline = vec![[0.0, 0.0], [10.0, 0.0], [10.0, 4.0], [3.0, 4.0], [3.0, 10.0], [0.0, 10.0]];
    let ground = Ground::new(outline, None, 0.0).unwrap();
    assert!((ground.longest_front(4.0).unwrap().front - 10.0).abs() < WITHIN);
    assert!((ground.longest_front(4.1).unwrap().front - 3.0).abs() < WITHIN);
}

#[test]
fn a_square_on_its_corner_takes_a_turned_building() {
    let outline = vec![[0.0, -5.0], [5.0, 0.0], [0.0, 5.0], [-5.0, 0.0]];
    let straight = Ground::new(outline.clone(), None, 0.0).unwrap();
    assert!((straight.longest_front(5.0).unwrap().front - 5.0).abs() < WITHIN);
    let turned = Ground::new(outline, None, 50.0_f64.to_radians()).unwrap();
    let placed = turned.longest_front(5.0).unwrap();
    assert!((placed.front - 50.0_f64.sqrt()).abs() < WITHIN, "{placed:?}");
    let largest = turned.largest([0.5, 2.0]).unwrap();
    assert!((largest.front * largest.depth - 50.0).abs() < 2.0 * WITHIN * 7.08, "{largest:?}");
    assert!(largest.within <= WITHIN, "{largest:?}");
}

/// In a right-angled triangle the largest rectangle is half of it (Euclid's
/// Elements VI 27: the greatest of the parallelograms applied to a line).
#[test]
fn the_largest_rectangle_of_a_triangle_is_half_of_it() {
    let ground = Ground::new(vec![[0.0, 0.0], [8.0, 0.0], [0.0, 6.0]], None, 0.0).unwrap();
    let placed = ground.largest([0.1, 10.0]).unwrap();
    assert!((placed.front - 4.0).abs() < 0.2 && (placed.depth - 3.0).abs() < 0.2, "{placed:?}");
    assert!(12.0 - placed.front * placed.depth <= WITHIN * 7.0 + 1e-6, "{placed:?}");
}

#[test]
fn outlines_that_are_none_are_named() {
    let trouble = |outline: Vec<[f64; 2]>| Ground::new(outline, None, 0.0).unwrap_err().trouble;
    assert!(trouble(vec![[0.0, 0.0], [1.0, 0.0]]).contains("fewer than three"));
    let bow = vec![[0.0, 0.0], [2.0, 2.0], [2.0, 0.0], [0.0, 2.0]];
    assert!(trouble(bow).contains("crosses itself"));
}

/// No rectangle of a fine grid of places and angles is longer.
#[test]
fn no_grid_finds_a_longer_front() {
    let outline = vec![[0.0, 0.0], [8.0, 0.7], [7.1, 4.0], [8.3, 7.0], [3.0, 6.0], [-0.5, 6.6]];
    let turn = 30.0_f64.to_radians();
    let ground = Ground::new(outline.clone(), None, turn).unwrap();
    let placed = ground.longest_front(2.5).unwrap();
    let inside = |corners: &[[f64; 2]; 4]| {
        let steps = 24;
        (0..4).all(|at| {
            let (a, b) = (corners[at], corners[(at + 1) % 4]);
            (0..=steps).all(|step| {
                let t = f64::from(step) / f64::from(steps);
                let point = [a[0] + t * (b[0] - a[0]), a[1] + t * (b[1] - a[1])];
                ground::within(&outline, point)
            })
        })
    };
    let shrunk = Placement {
        front: placed.front - 2e-6,
        depth: 2.5 - 2e-6,
        corner: {
            let (sin, cos) = placed.angle.sin_cos();
            [placed.corner[0] + 1e-6 * (cos - sin), placed.corner[1] + 1e-6 * (sin + cos)]
        },
        ..placed
    };
    assert!(inside(&shrunk.corners()), "the placement itself is on the ground: {placed:?}");
    for turn_step in -6..=6 {
        let angle = f64::from(turn_step) / 6.0 * turn;
        for x in -2..40 {
            for y in -12..30 {
                let corner = [f64::from(x) * 0.2, f64::from(y) * 0.2];
                let longer = Placement {
                    front: placed.front + WITHIN,
                    depth: 2.5,
                    angle,
                    corner,
                    within: 0.0,
                };
                assert!(!inside(&longer.corners()), "{longer:?}");
            }
        }
    }
}

/// Timing, printed: the creamery's ground turned up to 20 degrees.
#[test]
#[ignore = "prints times"]
fn times() {
    let outline = vec![[0.0, 0.0], [9.0, 0.0], [7.2, 6.2], [0.0, 6.8]];
    let circle = Circle { centre: [4.0, -31.0], radius: 31.169, inside: false };
    let ground = Ground::new(outline, Some(circle), 20.0_f64.to_radians()).unwrap();
    let start = std::time::Instant::now();
    let front = ground.longest_front(5.625);
    println!("longest front in {:?}: {front:?}", start.elapsed());
    let start = std::time::Instant::now();
    let largest = ground.largest([1.2, 2.0]);
    println!("largest rectangle in {:?}: {largest:?}", start.elapsed());
}
