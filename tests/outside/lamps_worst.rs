//! Outside checks: lamps with everything at its worst.
//!
//! The circuits are ours; what each comes to was COMPUTED apart from this
//! program from R = max((V - n Vf) / I, (highest - n (least - 0.002 V x 15)) /
//! (limit (1 - tolerance))) and the next value of IEC 60063. The bound of the
//! random circuits is worked out here from the text of the job alone, corner by
//! corner. Fall of 2 mV a degree, a fuse that holds 1.35 times its figure, and
//! 100 circular mils for an ampere of a fault: from MEMORY and judgement, as
//! `data/lamps.toml` says.

use scantling::catalog::Catalog;
use scantling::finding::Severity;
use scantling::job::read::read;
use scantling::lamps::{self, Lighting, Refused};

fn catalog() -> Catalog {
    Catalog::built_in().unwrap()
}

fn lit(text: &str, catalog: &Catalog) -> (Lighting, Vec<String>) {
    let text = format!("[job]\nname = \"lamps\"\nscale = \"1:48\"\n{text}");
    let job = read("lamps.toml", &text, catalog).unwrap_or_else(|error| panic!("{error}"));
    let outcome = lamps::run(&job, catalog).unwrap();
    let troubles = outcome.findings.into_iter().filter(|it| it.severity == Severity::Trouble);
    (outcome.value.unwrap(), troubles.map(|it| it.message).collect())
}

/// Volts, highest, lamp, lamps in series, milliamperes wanted, series, ohms.
const THIRTY: [(f64, f64, &str, u32, u32, &str, f64); 30] = [
    (5.0, 5.50, "blue", 1, 3, "E12", 680.0),
    (5.0, 5.50, "green", 2, 10, "E24", 91.0),
    (5.0, 5.50, "white", 1, 2, "E12", 1000.0),
    (5.0, 5.50, "yellow", 2, 10, "E24", 100.0),
    (6.0, 6.90, "blue", 1, 3, "E24", 1000.0),
    (9.0, 10.35, "blue", 2, 1, "E12", 2700.0),
    (9.0, 10.35, "red", 2, 15, "E24", 360.0),
    (9.0, 10.35, "warm-white", 2, 1, "E24", 2700.0),
    (9.0, 10.35, "white", 1, 3, "E12", 2200.0),
    (9.0, 10.35, "white", 1, 20, "E12", 470.0),
    (12.0, 12.60, "blue", 1, 1, "E12", 10000.0),
    (12.0, 12.60, "white", 2, 8, "E12", 820.0),
    (12.0, 12.60, "yellow", 3, 3, "E12", 2200.0),
    (12.0, 13.80, "green", 3, 8, "E24", 750.0),
    (12.0, 13.80, "white", 2, 2, "E24", 3000.0),
    (16.0, 18.40, "blue", 3, 8, "E24", 820.0),
    (16.0, 18.40, "green", 1, 1, "E24", 15000.0),
    (16.0, 18.40, "green", 6, 8, "E24", 430.0),
    (16.0, 18.40, "warm-white", 2, 3, "E12", 3300.0),
    (16.0, 18.40, "white", 1, 5, "E24", 2700.0),
    (16.0, 18.40, "white", 4, 8, "E12", 470.0),
    (16.0, 18.40, "white", 4, 8, "E24", 430.0),
    (16.0, 18.40, "yellow", 6, 3, "E12", 1200.0),
    (16.0, 18.40, "yellow", 6, 10, "E24", 390.0),
    (18.0, 20.70, "green", 8, 15, "E12", 330.0),
    (18.0, 20.70, "yellow", 2, 3, "E24", 4700.0),
    (18.0, 20.70, "yellow", 3, 2, "E24", 6200.0),
    (24.0, 27.60, "green", 8, 3, "E12", 2700.0),
    (24.0, 27.60, "warm-white", 4, 3, "E24", 3900.0),
    (24.0, 27.60, "yellow", 1, 3, "E12", 8200.0),
];

#[test]
fn thirty_circuits_get_a_resistor_that_stands_the_worst() {
    let catalog = catalog();
    for (volts, high, lamp, count, wanted, series, ohms) in THIRTY {
        let text = format!(
            "[lamps]\nseries = \"{series}\"\n[[lamps.supply]]\nname = \"pack\"\nvolts = \"{volts} V\"\n\
             high = \"{high} V\"\namperes = \"500 mA\"\nlimited = true\n[[lamps.string]]\nname = \"a\"\n\
             lamp = \"{lamp}\"\nlamps = {count}\ncurrent = \"{wanted} mA\"\ngauge = 28\nrun = \"2 ft\"\n"
        );
        let (lighting, troubles) = lit(&text, &catalog);
        let strung =
            lighting.strings[0].answer.as_ref().unwrap_or_else(|why| panic!("{text}{why}"));
        assert!((strung.resistor.in_ohms() / ohms - 1.0).abs() < 1e-9, "{text}{strung:?}");
        assert!(strung.worst.in_milliamperes() <= 20.0 + 1e-9, "{text}{strung:?}");
        assert!(troubles.is_empty(), "{text}{troubles:?}");
    }
}

fn unsafe_one(supply: &str, string: &str) -> (Option<Refused>, Vec<String>) {
    let text = format!(
        "[lamps]\n[[lamps.supply]]\nname = \"pack\"\n{supply}\n[[lamps.string]]\nname = \"a\"\n{string}\n"
    );
    let (lighting, troubles) = lit(&text, &catalog());
    assert!(!troubles.is_empty(), "{text} is not told");
    (lighting.strings[0].answer.clone().err(), troubles)
}

const WHITE: &str = "lamp = \"white\"\ncurrent = \"5 mA\"";
const PACK: &str = "volts = \"12 V\"\namperes = \"500 mA\"";

#[test]
fn the_eight_unsafe_ones_are_refused() {
    let strong = "volts = \"12 V\"\namperes = \"20 A\"";
    let thin = format!("{WHITE}\ngauge = 30\nrun = \"1 ft\"");
    // 100 ohm at 12 V: 88 mA and more through a lamp of 20.
    let (why, _) = unsafe_one(PACK, &format!("{WHITE}\nresistor = \"100 ohm\""));
    let Some(Refused::OverAtWorst { flows, .. }) = why else { panic!("{why:?}") };
    assert!(flows.in_milliamperes() >= 88.0);
    // 20 A through gauge 30, whatever is said of it.
    for more in ["", "\nlimited = true", "\nfuse = \"20 A\""] {
        let (why, _) = unsafe_one(&format!("{strong}{more}"), &thin);
        assert!(matches!(why, Some(Refused::Fault { gauge: 30, .. })), "{more}: {why:?}");
    }
    // A voltage of the house in any key.
    let (why, _) = unsafe_one(&format!("{PACK}\nhigh = \"120 V\""), WHITE);
    assert!(matches!(why, Some(Refused::NotLow(..))), "{why:?}");
    // A forward voltage that makes the resistor look idle.
    let (why, _) =
        unsafe_one(PACK, &format!("{WHITE}\nforward = \"11.9 V\"\nresistor = \"10 ohm\""));
    assert!(matches!(why, Some(Refused::NotItsKind { .. })), "{why:?}");
    // One resistor for lamps side by side.
    let one = format!("{WHITE}\nlamps = 4\njoined = \"parallel\"\nresistors = \"one\"");
    assert_eq!(unsafe_one(PACK, &one).0, Some(Refused::OneForParallel(4)));
    // A stove that stands 9 V.
    let load =
        format!("{WHITE}\n[[lamps.load]]\nname = \"stove\"\ncurrent = \"15 mA\"\nmost = \"9 V\"");
    assert!(unsafe_one(PACK, &load).1.iter().any(|it| it.contains("stove is refused")));
}

/// Knuth's multiplicative generator, enough to draw circuits.
struct Dice(u64);

impl Dice {
    fn share(&mut self) -> f64 {
        self.0 =
            self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 11) as f64 / (1_u64 << 53) as f64
    }

    fn between(&mut self, low: f64, high: f64) -> f64 {
        low + self.share() * (high - low)
    }

    fn whole(&mut self, low: u32, high: u32) -> u32 {
        low + (self.share() * f64::from(high - low + 1)) as u32
    }

    fn maybe(&mut self) -> bool {
        self.share() < 0.4
    }
}

/// Least, taken and most forward voltage of each kind.
const KINDS: [(&str, f64, f64, f64); 6] = [
    ("red", 1.8, 2.0, 2.2),
    ("yellow", 1.9, 2.1, 2.2),
    ("green", 2.0, 2.1, 2.4),
    ("white", 3.0, 3.2, 3.4),
    ("warm-white", 3.0, 3.2, 3.4),
    ("blue", 3.0, 3.2, 3.4),
];

/// A circuit with its figures.
struct Drawn {
    text: String,
    corners: [f64; 2],
    amperes: f64,
    fuse: Option<f64>,
    limited: bool,
    gauges: Vec<u32>,
    least: f64,
    lamps: u32,
    tolerance: f64,
    inside: f64,
}

fn drawn(dice: &mut Dice) -> Drawn {
    let milli = |value: f64| (value * 1000.0).round() / 1000.0;
    let volts = milli(dice.between(2.0, 26.0));
    let high = dice.maybe().then(|| milli(volts * dice.between(1.0, 2.5)));
    let amperes = milli(10_f64.powf(dice.between(-1.5, 1.4)));
    let fuse = dice.maybe().then(|| milli(10_f64.powf(dice.between(-1.5, 1.4))));
    let limited = dice.maybe();
    let (kind, least, take, most) = KINDS[dice.whole(0, 5) as usize];
    let lamps = dice.whole(1, 7);
    let wanted = milli(dice.between(0.5, 24.0));
    let picked = dice.maybe().then(|| milli(10_f64.powf(dice.between(0.0, 3.7))));
    let forward = dice.maybe().then(|| milli(dice.between(take - 0.6, take + 0.6)));
    let inside = milli(dice.between(0.0, 90.0));
    let (series, tolerance) = if dice.maybe() { ("E24", 0.05) } else { ("E12", 0.10) };
    let (feeder, own) =
        (dice.maybe().then(|| dice.whole(10, 44)), dice.maybe().then(|| dice.whole(10, 44)));
    let gauges: Vec<u32> = feeder.into_iter().chain(own).collect();
    let mut text = format!(
        "[lamps]\nseries = \"{series}\"\ninside = {inside:?}\n[[lamps.supply]]\nname = \"pack\"\nvolts = \"{volts} V\"\namperes = \"{amperes} A\"\nlimited = {limited}\n"
    );
    let key = |text: &mut String, line: Option<String>| text.extend(line.map(|line| line + "\n"));
    key(&mut text, high.map(|high| format!("high = \"{high} V\"")));
    key(&mut text, fuse.map(|fuse| format!("fuse = \"{fuse} A\"")));
    key(&mut text, feeder.map(|gauge| format!("gauge = {gauge}\nrun = \"3 ft\"")));
    text += &format!(
        "[[lamps.string]]\nname = \"a\"\nlamp = \"{kind}\"\nlamps = {lamps}\ntimes = {}\ncurrent = \"{wanted} mA\"\n",
        dice.whole(1, 6)
    );
    key(&mut text, picked.map(|ohms| format!("resistor = \"{ohms} ohm\"")));
    key(&mut text, forward.map(|volts| format!("forward = \"{volts} V\"")));
    key(&mut text, own.map(|gauge| format!("gauge = {gauge}\nrun = \"1 ft\"")));
    // A measured lamp moves its whole kind; the least of both is what may come.
    let moved = forward.map_or(least, |volts| least + volts - take);
    let _ = most;
    Drawn {
        text,
        corners: [volts, high.unwrap_or(volts * 1.15)],
        amperes,
        fuse,
        limited,
        gauges,
        least: least.min(moved),
        lamps,
        tolerance,
        inside,
    }
}

/// Beyond which rating a circuit goes; nothing for none.
fn beyond(drawn: &Drawn, lighting: &Lighting) -> Option<String> {
    let strung = lighting.strings[0].answer.as_ref().ok()?;
    let limit = 0.020 * ((100.0 - drawn.inside) / 50.0).clamp(0.0, 1.0);
    let rating = strung.rating.in_watts() * ((155.0 - drawn.inside) / 85.0).clamp(0.0, 1.0);
    let fall = 0.002 * (drawn.inside - 25.0).max(0.0);
    let mut most = 0.0_f64;
    for volts in drawn.corners {
        for ohms in [1.0 - drawn.tolerance, 1.0, 1.0 + drawn.tolerance]
            .map(|of| of * strung.resistor.in_ohms())
        {
            for lamp in [drawn.least - fall, drawn.least, drawn.least + 0.4] {
                let current = ((volts - f64::from(drawn.lamps) * lamp) / ohms).max(0.0);
                most = most.max(current);
                if current > limit * (1.0 + 1e-9) {
                    return Some(format!("{current} A through a lamp that stands {limit}"));
                }
                if current * current * ohms > rating * (1.0 + 1e-9) {
                    return Some(format!(
                        "{} W in a resistor of {rating}",
                        current * current * ohms
                    ));
                }
            }
        }
    }
    if (most - strung.worst.in_amperes()).abs() > 1e-9 {
        return Some(format!("the worst is {most}, told as {}", strung.worst));
    }
    let held = drawn.fuse.map(|fuse| 1.35 * fuse);
    let fault = match held {
        Some(held) if drawn.limited => held.min(drawn.amperes),
        Some(held) => held,
        None => drawn.amperes,
    };
    let thin = drawn.gauges.iter().find(|&&gauge| {
        let mils = 5.0 * 92_f64.powf((36.0 - f64::from(gauge)) / 39.0);
        fault > mils * mils / 100.0 * (1.0 + 1e-9)
    });
    thin.map(|gauge| format!("{fault} A of a fault through gauge {gauge}"))
}

#[test]
fn no_random_circuit_goes_beyond_a_rating_unrefused() {
    let catalog = catalog();
    let mut dice = Dice(20_261_127);
    let mut taken = 0;
    for number in 0..10_000 {
        let drawn = drawn(&mut dice);
        let (lighting, troubles) = lit(&drawn.text, &catalog);
        if let Some(what) = beyond(&drawn, &lighting) {
            panic!("circuit {number}: {what}\n{}", drawn.text);
        }
        let Ok(strung) = &lighting.strings[0].answer else { continue };
        taken += 1;
        let all = strung.worst.in_amperes() * f64::from(strung.branches);
        assert!(all <= drawn.amperes * (1.0 + 1e-9) || !troubles.is_empty(), "{}", drawn.text);
    }
    assert!(taken > 1_000, "only {taken} of 10,000 were worked out");
    println!("{taken} of 10,000 worked out, the others refused");
}
