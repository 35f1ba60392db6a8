//! Units of length as exact multiples of the inch.

use std::fmt;

use super::Rational;

/// A unit a length can be written in.
///
/// Factors: NIST Handbook 44 Appendix C and SP 811 Appendix B; the inch is
/// 25.4 mm, the US survey foot 1200/3937 m.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Unit {
    /// 25.4 mm.
    Inch,
    /// The international foot, 12 in.
    Foot,
    /// 3 ft.
    Yard,
    /// 16 1/2 international feet.
    Rod,
    /// 66 international feet.
    Chain,
    /// 1200/3937 m: only in old surveys.
    SurveyFoot,
    /// A thousandth of an inch.
    Thou,
    /// A thousandth of a metre.
    Millimetre,
    /// A hundredth of a metre.
    Centimetre,
    /// 5000/127 in.
    Metre,
}

impl Unit {
    /// Every unit.
    pub const ALL: [Self; 10] = [
        Self::Inch,
        Self::Foot,
        Self::Yard,
        Self::Rod,
        Self::Chain,
        Self::SurveyFoot,
        Self::Thou,
        Self::Millimetre,
        Self::Centimetre,
        Self::Metre,
    ];

    /// How many inches one of it is, exactly, as a fraction.
    const fn parts(self) -> (i128, i128) {
        match self {
            Self::Inch => (1, 1),
            Self::Foot => (12, 1),
            Self::Yard => (36, 1),
            Self::Rod => (198, 1),
            Self::Chain => (792, 1),
            Self::SurveyFoot => (1200 * 5000, 3937 * 127),
            Self::Thou => (1, 1000),
            Self::Millimetre => (5, 127),
            Self::Centimetre => (50, 127),
            Self::Metre => (5000, 127),
        }
    }

    /// That many of it in inches; nothing where the numbers outgrow the type.
    #[must_use]
    pub fn to_inches(self, amount: Rational) -> Option<Rational> {
        let (above, below) = self.parts();
        Rational::new(
            amount.numerator().checked_mul(above)?,
            amount.denominator().checked_mul(below)?,
        )
    }

    /// How many of it those inches are; nothing where the numbers outgrow the type.
    #[must_use]
    pub fn from_inches(self, inches: Rational) -> Option<Rational> {
        let (above, below) = self.parts();
        Rational::new(
            inches.numerator().checked_mul(below)?,
            inches.denominator().checked_mul(above)?,
        )
    }

    /// Inches in one of it, as a floating point factor.
    #[must_use]
    pub fn in_inches(self) -> f64 {
        let (above, below) = self.parts();
        above as f64 / below as f64
    }

    /// The word printed after a number.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Inch => "in",
            Self::Foot => "ft",
            Self::Yard => "yd",
            Self::Rod => "rod",
            Self::Chain => "chain",
            Self::SurveyFoot => "ftUS",
            Self::Thou => "thou",
            Self::Millimetre => "mm",
            Self::Centimetre => "cm",
            Self::Metre => "m",
        }
    }

    /// The unit a word names, in either case.
    #[must_use]
    pub fn from_word(word: &str) -> Option<Self> {
        const WORDS: [(&str, Unit); 28] = [
            ("in", Unit::Inch),
            ("ft", Unit::Foot),
            ("mm", Unit::Millimetre),
            ("cm", Unit::Centimetre),
            ("m", Unit::Metre),
            ("thou", Unit::Thou),
            ("inch", Unit::Inch),
            ("inches", Unit::Inch),
            ("feet", Unit::Foot),
            ("foot", Unit::Foot),
            ("mil", Unit::Thou),
            ("mils", Unit::Thou),
            ("yd", Unit::Yard),
            ("yard", Unit::Yard),
            ("yards", Unit::Yard),
            ("rod", Unit::Rod),
            ("rods", Unit::Rod),
            ("chain", Unit::Chain),
            ("chains", Unit::Chain),
            ("ftus", Unit::SurveyFoot),
            ("millimetre", Unit::Millimetre),
            ("millimetres", Unit::Millimetre),
            ("millimeter", Unit::Millimetre),
            ("millimeters", Unit::Millimetre),
            ("metre", Unit::Metre),
            ("metres", Unit::Metre),
            ("meter", Unit::Metre),
            ("meters", Unit::Metre),
        ];
        WORDS.iter().find(|(known, _)| known.eq_ignore_ascii_case(word)).map(|(_, unit)| *unit)
    }
}

impl fmt::Display for Unit {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.word())
    }
}
