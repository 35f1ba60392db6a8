//! Colours and signs: a dark and a light palette, in 256 or 16 colours, or
//! none; and plain ASCII where nothing else can be printed. Colour never says
//! a thing alone: a sign or a word always stands beside it.

use ratatui::style::{Color, Modifier, Style};

use crate::report::table::Mark;

/// Light letters on dark, or dark on light.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Ground {
    /// Light letters on a dark ground.
    #[default]
    Dark,
    /// Dark letters on a light ground.
    Light,
}

/// How many colours the terminal has.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Depth {
    /// None: bold, underline and reverse only.
    None,
    /// The sixteen named ones.
    Sixteen,
    /// The fixed 256.
    #[default]
    Many,
    /// All that eight bits for each of red, green and blue can say; text keeps
    /// to the 256.
    Full,
}

/// How everything looks.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Look {
    /// The palette.
    pub ground: Ground,
    /// Its colours.
    pub depth: Depth,
    /// Only plain ASCII is printed.
    pub ascii: bool,
}

/// What a colour is for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Role {
    /// Plain text.
    Text,
    /// Heads, notes, what is less important.
    Faint,
    /// Pole, rules and frames: lines, not text.
    Line,
    /// Headings and keys.
    Strong,
    /// The prototype.
    Prototype,
    /// What will be built.
    Built,
    /// Chosen or settled.
    Chosen,
    /// Look here.
    Look,
    /// Rejected or refused.
    Refused,
}

impl Role {
    /// Every role.
    pub const ALL: &'static [Self] = &[
        Self::Text,
        Self::Faint,
        Self::Line,
        Self::Strong,
        Self::Prototype,
        Self::Built,
        Self::Chosen,
        Self::Look,
        Self::Refused,
    ];

    fn many(self, ground: Ground) -> Color {
        let (dark, light) = match self {
            Self::Text => (252, 235),
            Self::Faint => (246, 240),
            Self::Line => (243, 244),
            Self::Strong => (223, 52),
            Self::Prototype => (110, 24),
            Self::Built => (180, 94),
            Self::Chosen => (150, 22),
            Self::Look => (221, 90),
            Self::Refused => (210, 124),
        };
        Color::Indexed(if ground == Ground::Dark { dark } else { light })
    }

    fn sixteen(self, ground: Ground) -> Color {
        match (self, ground) {
            (Self::Text, Ground::Dark) => Color::Gray,
            (Self::Faint | Self::Line, Ground::Dark) => Color::Gray,
            (Self::Strong, Ground::Dark) => Color::White,
            (Self::Prototype, Ground::Dark) => Color::LightCyan,
            (Self::Built, Ground::Dark) => Color::LightYellow,
            (Self::Chosen, Ground::Dark) => Color::LightGreen,
            (Self::Look, Ground::Dark) => Color::LightYellow,
            (Self::Refused, Ground::Dark) => Color::LightRed,
            (Self::Prototype, Ground::Light) => Color::Blue,
            (Self::Refused, Ground::Light) => Color::Red,
            (_, Ground::Light) => Color::Black,
        }
    }
}

impl Look {
    /// What the terminal seems to be able to show, by the usual variables.
    /// `light` and `ascii` are asked for by the person.
    #[must_use]
    pub fn of_environment(get: impl Fn(&str) -> Option<String>, light: bool, ascii: bool) -> Self {
        let said = |name: &str| get(name).filter(|value| !value.is_empty());
        let term = said("TERM").unwrap_or_default();
        let many = term.contains("256color") || said("COLORTERM").is_some();
        let full = said("COLORTERM").is_some_and(|what| what == "truecolor" || what == "24bit");
        let depth = match (said("NO_COLOR").is_some() || term == "dumb", many) {
            (true, _) => Depth::None,
            (false, true) if full => Depth::Full,
            (false, true) => Depth::Many,
            (false, false) => Depth::Sixteen,
        };
        // The last figure is the ground's colour: 7 and 9 to 15 are light.
        let ground_figure = said("COLORFGBG")
            .and_then(|value| value.rsplit(';').next().and_then(|n| n.parse::<u8>().ok()));
        let light = light || ground_figure.is_some_and(|n| n == 7 || (9..=15).contains(&n));
        let locale = ["LC_ALL", "LC_CTYPE", "LANG"].iter().find_map(|name| said(name));
        let utf8 = locale.is_none_or(|name| {
            let name = name.to_lowercase();
            name.contains("utf-8") || name.contains("utf8")
        });
        Self {
            ground: if light { Ground::Light } else { Ground::Dark },
            depth,
            ascii: ascii || !utf8 || term == "dumb",
        }
    }

    /// The other palette.
    #[must_use]
    pub fn turned(self) -> Self {
        let ground = if self.ground == Ground::Dark { Ground::Light } else { Ground::Dark };
        Self { ground, ..self }
    }

    /// The colour behind everything.
    #[must_use]
    pub fn ground_color(self) -> Color {
        match (self.depth, self.ground) {
            (Depth::None, _) => Color::Reset,
            (Depth::Sixteen, Ground::Dark) => Color::Black,
            (Depth::Sixteen, Ground::Light) => Color::White,
            (Depth::Many | Depth::Full, Ground::Dark) => Color::Indexed(234),
            (Depth::Many | Depth::Full, Ground::Light) => Color::Indexed(255),
        }
    }

    /// The colour of a role; the terminal's own without colours.
    #[must_use]
    pub fn color(self, role: Role) -> Color {
        match self.depth {
            Depth::None => Color::Reset,
            Depth::Sixteen => role.sixteen(self.ground),
            Depth::Many | Depth::Full => role.many(self.ground),
        }
    }

    /// A role as a style on the ground.
    #[must_use]
    pub fn style(self, role: Role) -> Style {
        let style = Style::new().fg(self.color(role)).bg(self.ground_color());
        match role {
            Role::Strong => style.add_modifier(Modifier::BOLD),
            _ => style,
        }
    }

    /// The row marked. Reverse always shows; no palette is needed for it.
    #[must_use]
    pub fn marked(self) -> Style {
        self.style(Role::Text).add_modifier(Modifier::REVERSED)
    }

    /// The style of a row by its mark.
    #[must_use]
    pub fn row(self, mark: Mark) -> Style {
        self.style(match mark {
            Mark::Plain => Role::Text,
            Mark::Chosen => Role::Chosen,
            Mark::Look => Role::Look,
            Mark::Refused => Role::Refused,
            Mark::Off => Role::Faint,
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The colours of xterm: 16 to 231 a cube, 232 to 255 greys; the first
    /// sixteen as xterm ships them (ctlseqs and XTerm-col.ad, from memory).
    fn rgb(color: Color) -> [u8; 3] {
        let index = match color {
            Color::Black => return [0, 0, 0],
            Color::Gray => return [229, 229, 229],
            Color::White => return [255, 255, 255],
            Color::LightCyan => return [0, 255, 255],
            Color::LightYellow => return [255, 255, 0],
            Color::LightGreen => return [0, 255, 0],
            Color::LightRed => return [255, 0, 0],
            Color::Blue => return [0, 0, 238],
            Color::Red => return [205, 0, 0],
            Color::Indexed(index) => index,
            other => panic!("{other:?} has no fixed colour"),
        };
        if index >= 232 {
            let grey = 8 + 10 * (index - 232);
            return [grey, grey, grey];
        }
        let step = |n: u8| if n == 0 { 0 } else { 55 + 40 * n };
        let at = index - 16;
        [step(at / 36), step(at / 6 % 6), step(at % 6)]
    }

    /// Relative luminance of WCAG 2.2, "relative luminance".
    fn luminance(color: Color) -> f64 {
        let linear = |byte: u8| {
            let c = f64::from(byte) / 255.0;
            if c <= 0.04045 { c / 12.92 } else { ((c + 0.055) / 1.055).powf(2.4) }
        };
        let [r, g, b] = rgb(color).map(linear);
        0.2126 * r + 0.7152 * g + 0.0722 * b
    }

    /// Contrast ratio of WCAG 2.2, success criterion 1.4.3.
    fn contrast(a: Color, b: Color) -> f64 {
        let (a, b) = (luminance(a), luminance(b));
        (a.max(b) + 0.05) / (a.min(b) + 0.05)
    }

    #[test]
    fn black_on_white_is_21_to_1() {
        assert!((contrast(Color::Black, Color::White) - 21.0).abs() < 1e-9);
    }

    #[test]
    fn text_has_4_5_and_lines_have_3() {
        for ground in [Ground::Dark, Ground::Light] {
            for depth in [Depth::Many, Depth::Sixteen] {
                let look = Look { ground, depth, ascii: false };
                for role in Role::ALL {
                    let ratio = contrast(look.color(*role), look.ground_color());
                    let least = if *role == Role::Line { 3.0 } else { 4.5 };
                    // Red on black is 5.25 by the same formula; none is below.
                    assert!(ratio >= least, "{look:?} {role:?} {ratio:.2}");
                }
            }
        }
    }

    #[test]
    fn the_environment_is_asked() {
        let of = |pairs: &'static [(&'static str, &'static str)]| {
            Look::of_environment(
                |name| pairs.iter().find(|(known, _)| *known == name).map(|(_, v)| (*v).to_owned()),
                false,
                false,
            )
        };
        assert_eq!(of(&[("TERM", "xterm-256color")]).depth, Depth::Many);
        assert_eq!(of(&[("TERM", "linux")]).depth, Depth::Sixteen);
        assert_eq!(of(&[("TERM", "xterm-256color"), ("NO_COLOR", "1")]).depth, Depth::None);
        assert_eq!(of(&[("NO_COLOR", "")]).depth, Depth::Sixteen);
        assert_eq!(of(&[("COLORFGBG", "0;15")]).ground, Ground::Light);
        assert_eq!(of(&[("COLORFGBG", "15;0")]).ground, Ground::Dark);
        assert!(of(&[("LANG", "C")]).ascii);
        assert!(!of(&[("LANG", "C"), ("LC_ALL", "C.UTF-8")]).ascii);
    }
}
