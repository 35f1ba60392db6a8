//! Input that once broke something, kept so that it cannot again.

use scantling::quantity::{Prototype, Reading, Unit, parse};

/// It was taken, and then its four decimals were more digits than are read.
#[test]
fn a_length_no_building_has_is_refused_at_once() {
    super::trials::notation(b"999999899818");
    let inches = Reading::in_unit(Unit::Inch);
    let error = parse::<Prototype>("999999899818", &inches).unwrap_err();
    assert!(error.to_string().contains("longer than the Earth"), "{error}");
    assert!(parse::<Prototype>("1000000000", &inches).is_ok());
}
