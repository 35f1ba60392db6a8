//! Outside checks: lamps.
//!
//! Sources: IEC 60063 preferred values (READ in public lists); worked resistors
//! of an encyclopedia article on LED circuits (READ); the fall of a rating with
//! heat of a component glossary (READ); ASTM B258 diameters and copper tables
//! (READ in two public tables, the formula from MEMORY). Rows without a source
//! are COMPUTED from R = (V - n Vf) / I.

use scantling::catalog::Catalog;
use scantling::catalog::lamps::Series;
use scantling::job::Job;
use scantling::lamps::resistor::{derated, nearest, next_up};
use scantling::lamps::{self, Hung, Refused, Strung, wire};
use scantling::quantity::{Current, ModelLength, Power, Resistance, Voltage};

fn catalog() -> Catalog {
    Catalog::built_in().unwrap()
}

fn series(name: &str) -> Series {
    catalog().lamps.series(name).unwrap().clone()
}

fn near(found: f64, expected: f64, slack: f64) {
    assert!((found - expected).abs() <= slack, "found {found}, expected {expected}");
}

/// A string on a supply of so many volts that rises as one of 12 V does to
/// 13.8 V.
fn hung(volts: &str, string: &str) -> Hung {
    let named: f64 = volts.trim_end_matches(" V").parse().unwrap();
    rising(volts, &format!("{:.3} V", named * 1.15), string)
}

fn rising(volts: &str, high: &str, string: &str) -> Hung {
    let text = format!(
        "[job]\nname = \"lamps\"\nscale = \"1:48\"\n[lamps]\nseries = \"E12\"\n\
         [[lamps.supply]]\nname = \"pack\"\nvolts = \"{volts}\"\nhigh = \"{high}\"\namperes = \"1 A\"\n\
         [[lamps.string]]\nname = \"a\"\n{string}\n"
    );
    let job: Job = scantling::job::read::read("lamps.toml", &text, &catalog()).unwrap();
    lamps::run(&job, &catalog()).unwrap().value.unwrap().strings.remove(0)
}

fn strung(volts: &str, string: &str) -> Strung {
    hung(volts, string).answer.unwrap()
}

/// R7-01, R7-02: 12 V and 9 V, 1.8 V, 5 mA (READ).
#[test]
fn one_lamp_of_the_encyclopedia() {
    let of =
        |volts: f64| (Voltage::volts(volts) - Voltage::volts(1.8)) / Current::milliamperes(5.0);
    near(of(12.0).in_ohms(), 2040.0, 1e-9);
    assert_eq!(next_up(&series("E24"), of(12.0)).unwrap().to_string(), "2.2 kohm");
    let current = Voltage::volts(12.0 - 1.8) / Resistance::ohms(2200.0);
    near(current.in_milliamperes(), 4.6364, 1e-4);
    near(of(9.0).in_ohms(), 1440.0, 1e-9);
    for name in ["E12", "E24"] {
        near(next_up(&series(name), of(9.0)).unwrap().in_ohms(), 1500.0, 1e-9);
    }
}

/// R7-03: three white lamps of 3.2 V in series on 12 V at 10 mA.
#[test]
fn three_in_series_meet_a_standard_value() {
    // On a steady supply: where it rises to 13.8 V, 22 mA flow at the worst.
    let string = "lamp = \"white\"\nlamps = 3\ncurrent = \"10 mA\"\nresistor = \"240 ohm\"";
    assert!(matches!(hung("12 V", string).answer, Err(Refused::OverAtWorst { .. })));
    let found = rising("12 V", "12 V", string).answer.unwrap();
    near(found.exact.in_ohms(), 240.0, 1e-9);
    near(next_up(&series("E24"), found.exact).unwrap().in_ohms(), 240.0, 1e-9);
    near(found.heat.in_watts() * 1000.0, 24.0, 1e-9);
}

/// R7-04: two white lamps in series need 6.4 V and have 5.
#[test]
fn five_volts_do_not_light_two_white_lamps() {
    let hung = hung("5 V", "lamp = \"white\"\nlamps = 2\ncurrent = \"5 mA\"");
    let Err(Refused::TooFewVolts { lamps: 2, needs, .. }) = hung.answer else {
        panic!("{hung:?}");
    };
    near(needs.in_volts(), 6.4, 1e-12);
}

/// R7-05: 100 W at 70 C, nothing at 200 C (READ; the source prints 77 and 38).
#[test]
fn a_rating_falls_with_heat() {
    let at = |degrees: f64| derated(Power::watts(100.0), 70.0, 200.0, degrees).in_watts();
    near(at(100.0), 76.9231, 1e-4);
    near(at(150.0), 38.4615, 1e-4);
    near(at(20.0), 100.0, 1e-12);
    near(at(250.0), 0.0, 1e-12);
}

/// R7-06: diameters by gauge.
#[test]
fn wire_is_as_thick_as_its_gauge_says() {
    near(wire::diameter(30).in_inches(), 0.010_025, 1e-6);
    near(wire::diameter(24).in_inches(), 0.020_101, 1e-6);
    let table = [
        (18, 40.303),
        (20, 31.961),
        (22, 25.347),
        (26, 15.941),
        (28, 12.641),
        (32, 7.950),
        (34, 6.305),
        (36, 5.000),
    ];
    for (gauge, mils) in table {
        near(wire::diameter(gauge).in_thou(), mils, 5e-4);
    }
}

/// The copper tables against diameter and resistivity: within 0.03 percent.
#[test]
fn copper_has_the_resistance_of_its_tables() {
    let catalog = catalog();
    assert_eq!(catalog.lamps.wires.len(), 19);
    for row in &catalog.lamps.wires {
        let solid = wire::solid(row.gauge, ModelLength::feet(1000.0));
        near(solid / row.per_thousand_feet, 1.0, 3e-4);
    }
}

/// R7-07: 12 ft of gauge 30 at 60 mA; and the trade's two rows, 6 ft at 40 and
/// 400 mA (about 0.05 V and 0.50 V).
#[test]
fn voltage_is_lost_there_and_back() {
    let drop = |feet: f64, milliamperes: f64| {
        let current = Current::milliamperes(milliamperes);
        wire::loop_drop(&catalog().lamps.wires, 30, ModelLength::feet(feet), current).in_volts()
    };
    near(drop(12.0, 60.0), 0.148_608, 1e-6);
    near(drop(6.0, 40.0), 0.05, 0.001);
    near(drop(6.0, 400.0), 0.50, 0.005);
}

/// R7-08, R7-09 (a public library documents 330 as nearest to 319).
#[test]
fn values_nearest_and_next_up() {
    let ohms = |value: f64| Resistance::ohms(value);
    near(nearest(&series("E12"), ohms(1120.0)).unwrap().in_ohms(), 1200.0, 1e-9);
    near(next_up(&series("E12"), ohms(1120.0)).unwrap().in_ohms(), 1200.0, 1e-9);
    near(nearest(&series("E24"), ohms(319.0)).unwrap().in_ohms(), 330.0, 1e-9);
    near(next_up(&series("E24"), ohms(319.0)).unwrap().in_ohms(), 330.0, 1e-9);
    near(nearest(&series("E12"), ohms(95.0)).unwrap().in_ohms(), 100.0, 1e-9);
    near(next_up(&series("E12"), ohms(0.83)).unwrap().in_ohms(), 1.0, 1e-12);
    for name in ["E12", "E24"] {
        let series = series(name);
        for value in series.values.iter().map(|value| f64::from(*value)) {
            for power in [0.1, 1.0, 10.0, 1000.0] {
                near(next_up(&series, ohms(value * power)).unwrap().in_ohms(), value * power, 1e-6);
            }
        }
    }
}

/// IEC 60063: E12 is every other value of E24, and there are 12 and 24 of them.
#[test]
fn the_series_hold_the_values_of_the_standard() {
    let (twelve, more) = (series("E12").values, series("E24").values);
    assert_eq!((twelve.len(), more.len()), (12, 24));
    assert!(more.iter().step_by(2).eq(&twelve));
}

/// The table of lamps the trade works with: exact value, value used, current,
/// heat (COMPUTED there).
#[test]
fn the_lamp_table_of_the_trade() {
    let rows = [
        ("12 V", 1, "white", 5, 1760.0, 1800.0, 4.89, 43.0),
        ("12 V", 2, "white", 5, 1120.0, 1200.0, 4.67, 26.0),
        ("12 V", 3, "white", 5, 480.0, 560.0, 4.29, 10.0),
        ("9 V", 1, "white", 5, 1160.0, 1200.0, 4.83, 28.0),
        ("9 V", 2, "white", 5, 520.0, 560.0, 4.64, 12.0),
        ("12 V", 1, "white", 2, 4400.0, 4700.0, 1.87, 17.0),
        ("12 V", 1, "red", 10, 1000.0, 1000.0, 10.0, 100.0),
        ("5 V", 1, "white", 5, 360.0, 390.0, 4.62, 8.0),
    ];
    for (volts, lamps, lamp, wanted, exact, used, current, heat) in rows {
        let string = format!("lamp = \"{lamp}\"\nlamps = {lamps}\ncurrent = \"{wanted} mA\"");
        let found = strung(volts, &string);
        near(found.exact.in_ohms(), exact, 1e-9);
        near(found.resistor.in_ohms(), used, 1e-9);
        near(found.current.in_milliamperes(), current, 0.005);
        // 16.48 mW is printed as 17.
        near(found.heat.in_watts() * 1000.0, heat, 0.53);
    }
    let picked = "lamp = \"white\"\nlamps = 3\ncurrent = \"5 mA\"\nresistor = \"470 ohm\"";
    near(strung("12 V", picked).current.in_milliamperes(), 5.1, 0.05);
}

/// A nominal 12 V that stands at 13.8 V: one lamp with 1800 ohm 5.9 mA (+20
/// percent), three in series with 470 ohm 8.9 mA instead of 5.1 (+75 percent).
#[test]
fn a_supply_that_rises_tells_most_on_long_strings() {
    let one = strung("12 V", "lamp = \"white\"\ncurrent = \"5 mA\"");
    near(one.high[0].in_milliamperes(), 5.9, 0.05);
    near(one.high[0] / one.current, 1.20, 0.005);
    let three = "lamp = \"white\"\nlamps = 3\ncurrent = \"5 mA\"\nresistor = \"470 ohm\"";
    let three = strung("12 V", three);
    near(three.high[0].in_milliamperes(), 8.9, 0.05);
    near(three.high[0] / three.current, 1.75, 0.005);
    assert!(three.share < 0.25 && one.share > 0.25);
}
