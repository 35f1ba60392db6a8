//! Outside checks: lumber.

/// Rows of coverings, bricks, ties and stairs.
mod covering {
    use scantling::quantity::{CompressedLength, ModelLength, Ratio, Scale};
    use scantling::stock::redistribute;
    use scantling::takeoff::{core, courses};

    fn inches(value: f64) -> CompressedLength {
        CompressedLength::inches(value)
    }

    fn near(found: f64, wanted: f64, slack: f64) {
        assert!((found - wanted).abs() <= slack, "{found}, wanted {wanted}");
    }

    /// R3-11. 16 ft 8 in of slope at 5 in: 40 courses; 5 in at 3.5 mm to the
    /// foot is 1.4583 mm. READ: IRC 2018 Table R905.7.5(1), exposure of 16 in
    /// shingles.
    #[test]
    fn shingles_at_the_exposure_of_the_code() {
        let (count, exposure) = courses::slope_courses(inches(200.0), inches(5.0));
        assert_eq!(count, 40);
        let ho = Scale::new("HO", Ratio::new(3048, 35).expect("a ratio"));
        near(ho.reduce(exposure).in_millimetres(), 1.4583, 1e-4);
    }

    /// R3-12. 8 ft of US modular brick, three courses to 8 in: 36. READ: Brick
    /// Industry Association Technical Notes 10. 2.4 m at 75 mm: 32. READ: UK
    /// metric coordinating size.
    #[test]
    fn brick_goes_by_the_coursing_rule() {
        assert_eq!(redistribute(inches(96.0), inches(8.0 / 3.0)).0, 36);
        let (height, course) = (CompressedLength::metres(2.4), CompressedLength::millimetres(75.0));
        assert_eq!(redistribute(height, course).0, 32);
    }

    /// R3-15. Three bricks of 2 1/4 and three joints of 3/8 are 7 7/8, while
    /// three courses are 8. READ: a trade article.
    #[test]
    fn adding_brick_and_joint_is_the_trap() {
        let added = 3.0 * 2.25 + 3.0 * 0.375;
        near(added, 7.875, 1e-12);
        let (count, each) = redistribute(inches(8.0), inches(8.0 / 3.0));
        near(each.in_inches() * f64::from(count), 8.0, 1e-9);
        assert!(8.0 - added > 0.1);
    }

    /// R3-13. Ties to a mile at 21 in and at 19 1/2 in (arithmetic).
    #[test]
    fn ties_to_a_mile() {
        let mile = CompressedLength::feet(5280.0);
        near(mile / inches(21.0), 3017.14, 0.01);
        near(mile / inches(19.5), 3249.23, 0.01);
        assert_eq!(courses::at_centres(mile, inches(21.0)), 3018);
    }

    /// R3-14. 9 ft from floor to floor, riser at most 7 3/4 in: 14 of 7.7143,
    /// run 130 at 10 in. READ: IRC 2018 R311.7.
    #[test]
    fn stairs_by_the_code() {
        let flight = courses::stairs_by_code(inches(108.0), inches(7.75), inches(10.0));
        assert_eq!(flight.risers, 14);
        near(flight.rise.in_inches(), 7.7143, 1e-4);
        near(flight.run.in_inches(), 130.0, 1e-9);
    }

    /// R3-09 and R3-10. Slate 10 x 20 at 3 in of headlap: 8.5 in exposed, 169.41
    /// to 100 sq ft; 6 x 12 on 16 ft by 20 ft: 1707. READ: building trades
    /// pocketbook and a carpentry text.
    #[test]
    fn slates() {
        let exposure = courses::slate_exposure(inches(20.0), inches(3.0));
        near(exposure.in_inches(), 8.5, 1e-9);
        near(courses::pieces_over(14_400.0, inches(10.0), exposure), 169.41, 0.01);
        let small = courses::slate_exposure(inches(12.0), inches(3.0));
        let count = courses::pieces_over(16.0 * 20.0 * 144.0, inches(6.0), small);
        near(count.ceil(), 1707.0, 1e-9);
    }

    /// R8-03 and R8-04. Kerf 0.2 mm: a 40 mm part is drawn 40.2, a hole of 2 by
    /// 4 is drawn 1.8 by 3.8; drawn 2 by 4 gives a piece of 1.8 by 3.8 and an
    /// opening of 2.2 by 4.2. READ: laser service pages.
    #[test]
    fn kerf_is_added_outside_and_taken_from_holes() {
        let mm = ModelLength::millimetres;
        near(core::drawn_outside(mm(40.0), mm(0.2)).in_millimetres(), 40.2, 1e-9);
        near(core::drawn_hole(mm(2.0), mm(0.2)).in_millimetres(), 1.8, 1e-9);
        near(core::drawn_hole(mm(4.0), mm(0.2)).in_millimetres(), 3.8, 1e-9);
        for (drawn, piece, opening) in [(2.0, 1.8, 2.2), (4.0, 3.8, 4.2)] {
            near(core::drawn_outside(mm(piece), mm(0.2)).in_millimetres(), drawn, 1e-9);
            near(core::drawn_hole(mm(opening), mm(0.2)).in_millimetres(), drawn, 1e-9);
        }
    }

    /// R8-07. A lid over walls of 140 by 85 mm with 0.4 mm all round is 140.8 by
    /// 85.8 inside. COMMON PRACTICE.
    #[test]
    fn a_lid_over_walls() {
        let mm = ModelLength::millimetres;
        let (long, wide) = core::casting_opening((mm(140.0), mm(85.0)), mm(0.4));
        near(long.in_millimetres(), 140.8, 1e-9);
        near(wide.in_millimetres(), 85.8, 1e-9);
    }
}
