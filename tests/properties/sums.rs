//! Sums in sentences against exact fractions of whole numbers without a limit.
//!
//! The judge reads the same sums, keeps every value as a fraction of big whole
//! numbers in this file, and knows nothing of the program's own fractions.

use scantling::bench::{Desk, Found, Look, ask};
use scantling::catalog::Catalog;

/// Repeatable numbers (the 64-bit mixer of S. Vigna's SplitMix, from memory).
struct Dice(u64);

impl Dice {
    fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut mixed = self.0;
        mixed = (mixed ^ (mixed >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        mixed = (mixed ^ (mixed >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        mixed ^ (mixed >> 31)
    }

    fn below(&mut self, limit: u64) -> u64 {
        self.next() % limit
    }
}

/// A whole number of any size, its digits in base 2^32 from the least, with a
/// sign: enough for sums, products and equality.
#[derive(Clone, Debug)]
struct Big {
    negative: bool,
    digits: Vec<u32>,
}

impl Big {
    fn of(value: i128) -> Self {
        let mut left = value.unsigned_abs();
        let mut digits = Vec::new();
        while left > 0 {
            digits.push(left as u32);
            left >>= 32;
        }
        Self { negative: value < 0, digits }
    }

    fn trimmed(mut self) -> Self {
        while self.digits.last() == Some(&0) {
            self.digits.pop();
        }
        self.negative &= !self.digits.is_empty();
        self
    }

    fn times(&self, other: &Self) -> Self {
        let mut digits = vec![0_u32; self.digits.len() + other.digits.len()];
        for (at, a) in self.digits.iter().enumerate() {
            let mut carry = 0_u64;
            for (by, b) in other.digits.iter().enumerate() {
                let sum = u64::from(*a) * u64::from(*b) + u64::from(digits[at + by]) + carry;
                digits[at + by] = sum as u32;
                carry = sum >> 32;
            }
            digits[at + other.digits.len()] = carry as u32;
        }
        Self { negative: self.negative != other.negative, digits }.trimmed()
    }

    fn larger(&self, other: &Self) -> bool {
        (self.digits.len(), self.digits.iter().rev().collect::<Vec<_>>())
            > (other.digits.len(), other.digits.iter().rev().collect::<Vec<_>>())
    }

    fn plus(&self, other: &Self) -> Self {
        if self.negative == other.negative {
            let long = self.digits.len().max(other.digits.len());
            let (mut digits, mut carry) = (Vec::new(), 0_u64);
            for at in 0..=long {
                let of = |big: &Self| u64::from(big.digits.get(at).copied().unwrap_or(0));
                let sum = of(self) + of(other) + carry;
                digits.push(sum as u32);
                carry = sum >> 32;
            }
            return Self { negative: self.negative, digits }.trimmed();
        }
        let (large, small) = if self.larger(other) { (self, other) } else { (other, self) };
        let (mut digits, mut borrow) = (Vec::new(), 0_i64);
        for at in 0..large.digits.len() {
            let of = |big: &Self| i64::from(big.digits.get(at).copied().unwrap_or(0));
            let mut left = of(large) - of(small) - borrow;
            borrow = i64::from(left < 0);
            left += borrow << 32;
            digits.push(left as u32);
        }
        Self { negative: large.negative, digits }.trimmed()
    }

    fn same(&self, other: &Self) -> bool {
        self.negative == other.negative && self.digits == other.digits
    }
}

/// A fraction, not in lowest terms.
#[derive(Clone, Debug)]
struct Fraction {
    above: Big,
    below: Big,
}

impl Fraction {
    fn of(above: i128, below: i128) -> Self {
        Self { above: Big::of(above), below: Big::of(below) }
    }

    fn plus(&self, other: &Self, sign: i128) -> Self {
        let right = other.above.times(&self.below).times(&Big::of(sign));
        Self {
            above: self.above.times(&other.below).plus(&right),
            below: self.below.times(&other.below),
        }
    }

    fn times(&self, other: &Self) -> Self {
        Self { above: self.above.times(&other.above), below: self.below.times(&other.below) }
    }

    fn over(&self, other: &Self) -> Self {
        let mut turned = Self { above: other.below.clone(), below: other.above.clone() };
        if turned.below.negative {
            turned.below.negative = false;
            turned.above.negative = !turned.above.negative;
        }
        self.times(&turned)
    }

    /// Whether it is a fraction in lowest terms of ordinary whole numbers.
    fn is(&self, above: i128, below: i128) -> bool {
        self.above.times(&Big::of(below)).same(&Big::of(above).times(&self.below))
    }
}

/// A length as it may be typed, and its inches.
fn length(dice: &mut Dice) -> (String, Fraction) {
    let parts = [2, 4, 8, 16, 32, 64][dice.below(6) as usize];
    let above = 1 + dice.below(parts - 1);
    let (feet, inches) = (dice.below(200), dice.below(12));
    let (i, p, a) = (i128::from(inches), i128::from(parts), i128::from(above));
    match dice.below(7) {
        0 => (format!("{feet} ft {inches}"), Fraction::of(i128::from(feet) * 12 + i, 1)),
        1 => (
            format!("{feet}'-{inches} {above}/{parts}\""),
            Fraction::of((i128::from(feet) * 12 + i) * p + a, p),
        ),
        2 => (format!("{inches} {above}/{parts} in"), Fraction::of(i * p + a, p)),
        3 => {
            let mm = dice.below(100_000);
            let (whole, rest) = (mm / 10, mm % 10);
            (format!("{whole}.{rest} mm"), Fraction::of(i128::from(mm) * 5, 1270))
        }
        4 => (format!("{feet} ft"), Fraction::of(i128::from(feet) * 12, 1)),
        5 => {
            let metres = dice.below(100_000);
            (
                format!("{}.{:03} m", metres / 1000, metres % 1000),
                Fraction::of(i128::from(metres) * 5000, 127_000),
            )
        }
        _ => (format!("{feet}\""), Fraction::of(i128::from(feet), 1)),
    }
}

fn number(dice: &mut Dice) -> (String, Fraction) {
    let whole = 1 + dice.below(24);
    if dice.below(3) > 0 {
        return (whole.to_string(), Fraction::of(i128::from(whole), 1));
    }
    let below = 2 + dice.below(14);
    let above = 1 + dice.below(below - 1);
    (format!("{above}/{below}"), Fraction::of(i128::from(above), i128::from(below)))
}

/// A product: a length times or over numbers.
fn product(dice: &mut Dice) -> (String, Fraction) {
    let (mut text, mut value) = length(dice);
    match dice.below(5) {
        0 => {
            let (more, factor) = number(dice);
            text = format!("{more} * {text}");
            value = value.times(&factor);
        }
        1 => {
            let (more, factor) = number(dice);
            text = format!("{text} * {more}");
            value = value.times(&factor);
        }
        2 => {
            let divisor = 1 + dice.below(30);
            text = format!("{text} / {divisor}");
            value = value.over(&Fraction::of(i128::from(divisor), 1));
        }
        3 => {
            let (more, factor) = number(dice);
            if more.contains('/') {
                text = format!("{more} of {text}");
                value = value.times(&factor);
            }
        }
        _ => {}
    }
    (text, value)
}

/// A sum with brackets now and then.
fn sum(dice: &mut Dice, deep: u32) -> (String, Fraction) {
    let (mut text, mut value) = product(dice);
    for _ in 0..=dice.below(3) {
        let bracket = deep > 0 && dice.below(4) == 0;
        let (mut more, mut next) = if bracket { sum(dice, deep - 1) } else { product(dice) };
        if bracket {
            let divisor = 1 + dice.below(12);
            more = format!("({more}) / {divisor}");
            next = next.over(&Fraction::of(i128::from(divisor), 1));
        }
        let minus = dice.below(2) == 0;
        text = format!("{text} {} {more}", if minus { "-" } else { "+" });
        value = value.plus(&next, if minus { -1 } else { 1 });
    }
    (text, value)
}

/// The exact inches the program says: the figure called `exactly`.
fn said(text: &str, desk: &Desk<'_>) -> (i128, i128) {
    let found = ask(text, desk).unwrap_or_else(|stop| panic!("{text}: {}", stop.told()));
    let Found::Sum(answer) = found else { panic!("{text} is no sum") };
    let figure = answer.get("exactly").unwrap_or_else(|| panic!("{text}: {answer:?}"));
    let words = figure.text.strip_suffix(" in").expect("inches");
    let (sign, words) = words.strip_prefix('-').map_or((1, words), |rest| (-1, rest));
    let whole = |text: &str| text.parse::<i128>().expect("a whole number");
    let (count, part) = match words.split_once(' ') {
        Some((count, part)) => (whole(count), Some(part)),
        None if words.contains('/') => (0, Some(words)),
        None => (whole(words), None),
    };
    let (above, below) = part.map_or((0, 1), |part| {
        let (above, below) = part.split_once('/').expect("a fraction");
        (whole(above), whole(below))
    });
    (sign * (count * below + above), below)
}

fn trials(count: u64, seed: u64) {
    let catalog = Catalog::built_in().expect("the shipped data is sound");
    let desk = Desk {
        scale: catalog.scales.find("HO").expect("HO"),
        catalog: &catalog,
        to: None,
        year: None,
        model: false,
        unit: None,
        look: Look::default(),
    };
    let mut dice = Dice(seed);
    for _ in 0..count {
        let (text, wanted) = sum(&mut dice, 2);
        let (above, below) = said(&text, &desk);
        assert!(wanted.is(above, below), "{text}: said {above}/{below} in, wanted {wanted:?}");
    }
}

#[test]
fn sums_in_sentences_are_exact() {
    trials(4_000, 1);
}

/// A million of them: `cargo test --release --test properties -- --ignored million`.
#[test]
#[ignore = "takes a minute"]
fn a_million_sums_are_exact() {
    trials(1_000_000, 2);
}

/// A sum that outgrows the program's fractions is refused, never rounded.
#[test]
fn a_sum_that_is_too_long_is_refused() {
    let catalog = Catalog::built_in().expect("the shipped data is sound");
    let desk = Desk {
        scale: catalog.scales.find("HO").expect("HO"),
        catalog: &catalog,
        to: None,
        year: None,
        model: false,
        unit: None,
        look: Look::default(),
    };
    let factor = "0.12345678901234 * ";
    let text = format!("{}12 ft", factor.repeat(12));
    let told = ask(&text, &desk).expect_err("too long").told();
    assert!(told.contains("too long"), "{told}");
}
