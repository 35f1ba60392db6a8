//! The adjustment on made-up walls.

use super::monte_carlo::{draw, interval};
use super::network::{Measure, Network, Sight};
use super::random::Dice;
use super::samples::{View, camera, known, picture, side, state, turned_wall, windows};
use super::solution::{Trouble, adjust};

const SIDEWAYS: View = View { focal: 1350.0, radial: 0.0, turns: [32.0, 6.0, 1.0] };

fn wall(view: &View, n: usize) -> Network {
    let mut network = picture(camera(), &state(view, &windows(n)), n);
    network.ties = vec![known(side(0, false), 1.2), known(side(0, true), 1.5)];
    network
}

fn all_sides(n: usize) -> Vec<Measure> {
    (0..n).flat_map(|i| [side(i, false), side(i, true)]).collect()
}

#[test]
fn exact_marks_give_exact_lengths() {
    let mut network = wall(&SIDEWAYS, 6);
    network.camera.ln_focal.sigma = 10.0;
    let solution = adjust(network).unwrap();
    for i in 0..6 {
        for (upright, true_length) in [(false, 1.2), (true, 1.5)] {
            let got = solution.measure(side(i, upright));
            assert!((got / true_length - 1.0).abs() < 1e-5, "window {i}: {got}");
        }
    }
    assert!((solution.state.focal(&solution.network) / 1350.0 - 1.0).abs() < 1e-3);
    assert!(solution.passes());
}

#[test]
fn distortion_is_found_from_rectangles() {
    let view = View { radial: -0.16, ..SIDEWAYS };
    let mut network = wall(&view, 8);
    network.sights.iter_mut().for_each(|s| s.sigma = 0.05);
    let solution = adjust(network).unwrap();
    assert!((solution.state.radial() + 0.16).abs() < 0.01, "{}", solution.state.radial());
}

#[test]
fn head_on_lengths_stand_though_the_focal_length_is_unknown() {
    let view = View { focal: 1400.0, radial: 0.0, turns: [0.0; 3] };
    let solution = adjust(wall(&view, 6)).unwrap();
    assert!((solution.measure(side(5, false)) / 1.2 - 1.0).abs() < 1e-4);
    assert!(solution.focal_spread() > 0.5, "{}", solution.focal_spread());
}

#[test]
fn every_kind_of_row_together() {
    let (mut network, truth) = turned_wall();
    let windows: Vec<Measure> = all_sides(3);
    network.sights.iter_mut().for_each(|s| s.sigma = 0.01);
    let straight = Measure::Straight { from: [0, 2], to: [5, 7] };
    network.ties[1] = known(straight, straight.of(&truth.coordinates) * truth.scale());
    let solution = adjust(network).unwrap();
    for measure in windows.into_iter().chain([Measure::Along { from: 0, to: 12 }]) {
        let wanted = measure.of(&truth.coordinates) * truth.scale();
        let off = solution.measure(measure) - wanted;
        assert!(off.abs() < 0.01, "{measure:?} is off by {off}");
    }
}

#[test]
fn a_slipped_mark_is_named() {
    let mut network = wall(&SIDEWAYS, 6);
    network.sights[9].pixel[0] += 12.0;
    let solution = adjust(network).unwrap();
    assert!(!solution.passes());
    assert_eq!(solution.worst_mark().unwrap().mark, 9);
}

#[test]
fn one_rectangle_with_one_length_has_no_checks() {
    let mut network = wall(&SIDEWAYS, 1);
    assert_eq!(network.checks(), 1);
    network.ties.pop();
    assert_eq!(network.checks(), 0);
}

#[test]
fn drawing_agrees_with_first_order_where_the_problem_is_plain() {
    let mut network = wall(&SIDEWAYS, 8);
    network.sights.iter_mut().for_each(|s| s.sigma = 0.2);
    let solution = adjust(network).unwrap();
    let sides = all_sides(8);
    let mut draws = draw(&solution, &sides, 1000, 1.0, 3);
    assert_eq!(draws.failed, 0);
    for (measure, values) in sides.iter().zip(&mut draws.values) {
        let found = interval(values).unwrap();
        let half = 0.5 * (found.high - found.low);
        let expected = 1.96 * solution.sigma(*measure);
        assert!((half / expected - 1.0).abs() < 0.12, "{half} against {expected}");
    }
}

#[test]
fn the_same_seed_gives_the_same_draws() {
    let solution = adjust(wall(&SIDEWAYS, 3)).unwrap();
    let sides = all_sides(3);
    assert_eq!(draw(&solution, &sides, 50, 1.0, 9), draw(&solution, &sides, 50, 1.0, 9));
    assert_ne!(draw(&solution, &sides, 50, 1.0, 9), draw(&solution, &sides, 50, 1.0, 8));
}

#[test]
fn noisy_marks_stay_within_their_intervals() {
    let (mut inside, mut all) = (0, 0);
    let mut dice = Dice::new(11);
    for _ in 0..40 {
        let mut network = wall(&SIDEWAYS, 6);
        for sight in &mut network.sights {
            sight.pixel = sight.pixel.map(|p| p + dice.normal());
        }
        let solution = adjust(network).unwrap();
        for i in 1..6 {
            for (upright, truth) in [(false, 1.2), (true, 1.5)] {
                let measure = side(i, upright);
                let off = (solution.measure(measure) - truth).abs();
                inside += usize::from(off < 1.96 * solution.sigma(measure));
                all += 1;
            }
        }
    }
    let share = inside as f64 / f64::from(all);
    assert!((0.9..=0.995).contains(&share), "coverage {share}");
}

#[test]
fn a_mark_beyond_the_horizon_is_refused() {
    let mut network = wall(&View { turns: [60.0, 0.0, 0.0], ..SIDEWAYS }, 4);
    let level = adjust(network.clone()).unwrap().seen.level.unwrap();
    let edge = [level.x / level.z * 1600.0, level.y / level.z * 1600.0];
    let away = (edge[0] - 799.5).signum();
    let pixel = [edge[0] + 300.0 * away, edge[1]];
    network.sights.push(Sight { pixel, sigma: 1.0, x: 16, y: 17, plane: None, z: None });
    network.coordinates += 2;
    assert_eq!(adjust(network).unwrap_err(), Trouble::BeyondHorizon);
}

#[test]
#[ignore = "prints a time; run in release"]
fn prints_the_time_of_two_thousand_draws() {
    let solution = adjust(wall(&SIDEWAYS, 13)).unwrap();
    let sides = all_sides(13);
    let begin = std::time::Instant::now();
    let draws = draw(&solution, &sides, 2000, 1.0, 1);
    println!("60 unknowns, 2000 draws: {:?}, {} failed", begin.elapsed(), draws.failed);
}
