//! Geometry of one picture, against exact and independent numbers.
//!
//! Sources: Hartley and Zisserman, *Multiple View Geometry*, 2nd ed. 2004,
//! chapters 2 and 4 (cross-ratio, homography; method from memory, numbers an
//! exact rational solve that OpenCV 5.0 repeats); Zhang and He, *Whiteboard
//! scanning and image enhancement*, Microsoft Research report 2003 (formula
//! from memory, its use read in public code; numbers by numpy); Criminisi,
//! Reid and Zisserman, *Single View Metrology*, IJCV 40(2), 2000 (abstract
//! read, formula from memory; numbers by numpy).

use scantling::photo::doors::{Worth, by_horizon, by_post, by_shadow, fourth, plain};
use scantling::photo::marks_file::{Choice, read};
use scantling::photo::ruler::{compare_ahead, depth_error};
use scantling::solve::camera::homography::Homography;
use scantling::solve::camera::single_view::{
    Shape, Upright, cross_ratio, fourth_on_line, height, height_level, point, rectangle_shape,
};

fn near(got: f64, want: f64, slack: f64) {
    assert!((got - want).abs() <= slack, "{got} is not {want} within {slack}");
}

/// R6-01: the cross-ratio is kept by every projection (exact).
#[test]
fn cross_ratio_r6_01() {
    near(cross_ratio(0.0, 1.0, 2.0, 3.0), 4.0 / 3.0, 1e-12);
    near(cross_ratio(1.0 / 3.0, 0.75, 1.0, 7.0 / 6.0), 4.0 / 3.0, 1e-12);
}

/// R6-02, R6-03: a fourth point of a wall line from three known (exact fractions).
#[test]
fn fourth_point_on_a_wall_line_r6_02_r6_03() {
    let rounded = [(100.0, 0.0), (366.6667, 10.0), (633.3333, 40.0)];
    near(fourth_on_line(rounded, 455.5556).unwrap(), 16.0, 1e-3);
    near(fourth_on_line(rounded, 544.4444).unwrap(), 25.0, 1e-3);
    let exact = [(100.0, 0.0), (1100.0 / 3.0, 10.0), (1900.0 / 3.0, 40.0)];
    near(fourth_on_line(exact, 4100.0 / 9.0).unwrap(), 16.0, 1e-10);
    near(fourth_on_line(exact, 4900.0 / 9.0).unwrap(), 25.0, 1e-10);
}

/// R6-04 to R6-06: an exact rational solve, which OpenCV 5.0 repeats.
#[test]
fn homography_of_four_points_r6_04_to_r6_06() {
    let picture = [[212.0, 118.0], [1430.0, 264.0], [1418.0, 742.0], [198.0, 880.0]];
    let wall = [[0.0, 0.0], [480.0, 0.0], [480.0, 168.0], [0.0, 168.0]];
    let map = Homography::fit(&picture, &wall).unwrap();
    let rows = [
        ([820.0, 400.0], [186.268_130_452_0, 56.459_448_180_4]),
        ([1100.0, 650.0], [305.978_528_912_5, 128.905_875_695_5]),
        (picture[0], wall[0]),
        (picture[1], wall[1]),
        (picture[2], wall[2]),
        (picture[3], wall[3]),
    ];
    for (from, to) in rows {
        let got = map.map(from).unwrap();
        near(got[0], to[0], 1e-9);
        near(got[1], to[1], 1e-9);
    }
}

/// R6-07: Zhang and He 2003; numbers by numpy 2.4.6.
#[test]
fn rectangle_of_unknown_focal_length_r6_07() {
    let rows = [
        (
            [
                [609.629_100, 251.270_763],
                [1_562.825_499, 306.621_433],
                [604.132_951, 774.994_519],
                [1_476.854_950, 1_029.062_252],
            ],
            1_799.999_996_62,
            1.749_999_999_5,
        ),
        (
            [[609.629, 251.271], [1562.825, 306.621], [604.133, 774.995], [1476.855, 1029.062]],
            1_800.002_599_44,
            1.749_999_395_3,
        ),
        (
            [[609.6, 251.3], [1562.8, 306.6], [604.1, 775.0], [1476.9, 1029.1]],
            1_800.843_257_87,
            1.750_493_646_6,
        ),
        (
            [[610.0, 251.0], [1563.0, 307.0], [604.0, 775.0], [1477.0, 1029.0]],
            1_807.896_691_53,
            1.750_679_893_9,
        ),
    ];
    for (corners, f, ratio) in rows {
        let Shape::Projective { focal, aspect } = rectangle_shape(corners, [960.0, 640.0]) else {
            panic!("a focal length was expected");
        };
        near(focal, f, 1e-6 * f);
        near(aspect, ratio, 1e-6 * ratio);
    }
}

/// R6-08: a frontal rectangle tells no focal length (degenerate case of R6-07).
#[test]
fn frontal_rectangle_has_only_an_affine_shape_r6_08() {
    let corners = [[100.0, 100.0], [520.0, 100.0], [100.0, 340.0], [520.0, 340.0]];
    match rectangle_shape(corners, [400.0, 300.0]) {
        Shape::Affine { aspect } => near(aspect, 1.75, 1e-12),
        other => panic!("{other:?}"),
    }
}

/// R6-09: Criminisi, Reid and Zisserman 2000; numbers by numpy 2.4.6.
#[test]
fn heights_in_one_view_r6_09() {
    let up = |base, top| Upright { base, top };
    let rows = [
        (
            [501.986_135, 11_980.690_341],
            [354.108_845, 396.006_320],
            up([717.673_017, 601.950_982], [722.415_726, 351.745_445]),
            up([1_207.390_593, 531.708_816], [1_247.427_565, -118.106_414]),
            23.500_000_055_0,
        ),
        (
            [501.99, 11_980.69],
            [354.11, 396.01],
            up([717.67, 601.95], [722.42, 351.75]),
            up([1_207.39, 531.71], [1_247.43, -118.11]),
            23.500_304_263_7,
        ),
        (
            [502.0, 11_980.7],
            [354.1, 396.0],
            up([717.7, 602.0], [722.4, 351.7]),
            up([1_207.4, 531.7], [1_247.4, -118.1]),
            23.498_874_794_3,
        ),
    ];
    for (vertical, [left, right], reference, object, feet) in rows {
        let horizon = [[0.0, left], [1600.0, right]];
        near(height(point(vertical), horizon, (reference, 6.0), object), feet, 1e-6 * feet);
    }
}

/// R6-10, R6-11: a level camera, by similar triangles.
#[test]
fn level_camera_r6_10_r6_11() {
    near(height_level(5.5, 900.0, 520.0, 130.0), 11.144_737, 1e-6);
    // The derivative by the base row, times 3 px (GUM equation 10).
    let step = 1e-4;
    let slope = (height_level(5.5, 900.0 + step, 520.0, 130.0)
        - height_level(5.5, 900.0 - step, 520.0, 130.0))
        / (2.0 * step);
    near((3.0 * slope).abs(), 0.044_564, 1e-6);
}

/// Depth errors worked out by hand from similar triangles (common practice,
/// no source): 6 ft in front of a wall at 60 ft is 11.1 percent, and so on.
#[test]
fn an_object_in_front_of_the_wall_looks_too_big() {
    for (ahead, distance, percent) in
        [(6.0, 60.0, 11.1), (6.0, 120.0, 5.3), (2.0, 60.0, 3.4), (4.0, 150.0, 2.7)]
    {
        near(100.0 * depth_error(ahead, distance).unwrap(), percent, 0.06);
    }
    assert_eq!(depth_error(60.0, 60.0), None);
    near(compare_ahead(6.0, 2.0, 5.0, 6.0, 60.0).unwrap(), 15.0 * 60.0 / 54.0, 1e-9);
}

/// R6-02, R6-10 and the worked shadow of 5/4 x 24 ft with errors of 0.04, 0.08
/// and 0.25 ft (2.4 percent), through the simple questions.
#[test]
fn simple_questions_carry_their_intervals() {
    let exact = |value| Worth::new(value, 0.0);
    let px = |value| Worth::new(value, 1.0);
    let known = [(100.0, 0.0), (1100.0 / 3.0, 10.0), (1900.0 / 3.0, 40.0)];
    let known = known.map(|(pixel, place)| (px(pixel), exact(place)));
    let found = fourth(known, px(4100.0 / 9.0)).unwrap();
    near(found.value, 16.0, 1e-9);
    assert!(found.sigma > 0.01 && found.sigma < 0.5, "{found:?}");
    let rows = [900.0, 520.0, 130.0].map(|row| Worth::new(row, 0.0));
    let base = [Worth::new(900.0, 3.0), rows[1], rows[2]];
    let found = by_horizon(exact(5.5), base).unwrap();
    near(found.value, 11.144_737, 1e-6);
    near(found.sigma, 0.044_564, 1e-5);
    // The same height from a post of 5.5 ft whose top reaches the horizon.
    let found = by_post(exact(5.5), [rows[0], rows[1]], rows).unwrap();
    near(found.value, 11.144_737, 1e-6);
    let shadow = [(5.0, 0.04), (4.0, 0.08), (24.0, 0.25)].map(|(v, s)| Worth::new(v, s));
    let found = by_shadow(shadow[0], shadow[1], shadow[2]).unwrap();
    near(found.value, 30.0, 1e-9);
    near(found.sigma, 0.7, 0.05);
}

/// R6-04 and R6-05 once more, as a person asks for them: four corners of known
/// sides and a mark, no lens, to a millionth.
#[test]
fn a_plain_map_through_a_marks_file_r6_04() {
    let text = r#"
width = 1600
height = 1000
point = [
    { id = "tl", px = [212.0, 118.0] }, { id = "tr", px = [1430.0, 264.0] },
    { id = "br", px = [1418.0, 742.0] }, { id = "bl", px = [198.0, 880.0] },
    { id = "p", px = [820.0, 400.0] }, { id = "q", px = [1100.0, 650.0] },
]
[[rect]]
id = "wall"
corners = ["tl", "tr", "br", "bl"]
"#;
    let [known, asked] = [
        vec!["wall:width=480", "wall:height=168"],
        vec!["tl..p", "tl..p:level", "tl..p:plumb", "p..q"],
    ]
    .map(|list| list.into_iter().map(str::to_owned).collect());
    let choice = Choice { known, asked, known_sigma: 0.001, ..Choice::default() };
    let found = plain(&read(text, &choice).unwrap()).unwrap();
    let (p, q) = ([186.268_130_452_0, 56.459_448_180_4], [305.978_528_912_5, 128.905_875_695_5]);
    let wanted = [f64::hypot(p[0], p[1]), p[0], p[1], f64::hypot(q[0] - p[0], q[1] - p[1])];
    assert_eq!(found.len(), wanted.len());
    for ((_, worth), want) in found.iter().zip(wanted) {
        near(worth.value, want, 1e-6 * want);
        // A pixel is about 0.4 there.
        assert!(worth.sigma > 0.1 && worth.sigma < 2.0, "{worth:?}");
    }
}
