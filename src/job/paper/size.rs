//! Sizes of paper.
//!
//! ISO 216 for the A sizes, ANSI/ASME Y14.1 for Letter and B to E (READ);
//! architectural C to E from memory, A READ.

use crate::finding::Stop;
use crate::quantity::PaperLength;

/// A size of paper, upright.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Paper {
    /// The word it is asked for by.
    pub key: &'static str,
    /// What it is called.
    pub name: &'static str,
    /// Shorter side in millimetres.
    short: f64,
    /// Longer side in millimetres.
    long: f64,
}

const fn iso(key: &'static str, name: &'static str, short: f64, long: f64) -> Paper {
    Paper { key, name, short, long }
}

const fn inches(key: &'static str, name: &'static str, short: f64, long: f64) -> Paper {
    Paper { key, name, short: short * 25.4, long: long * 25.4 }
}

impl Paper {
    /// Every size, the usual ones first.
    pub const ALL: &'static [Self] = &[
        inches("letter", "Letter", 8.5, 11.0),
        iso("a4", "A4", 210.0, 297.0),
        inches("legal", "Legal", 8.5, 14.0),
        inches("ansi-b", "ANSI B", 11.0, 17.0),
        iso("a3", "A3", 297.0, 420.0),
        inches("ansi-c", "ANSI C", 17.0, 22.0),
        iso("a2", "A2", 420.0, 594.0),
        inches("arch-c", "Arch C", 18.0, 24.0),
        inches("ansi-d", "ANSI D", 22.0, 34.0),
        iso("a1", "A1", 594.0, 841.0),
        inches("arch-d", "Arch D", 24.0, 36.0),
        inches("ansi-e", "ANSI E", 34.0, 44.0),
        iso("a0", "A0", 841.0, 1189.0),
        inches("arch-e", "Arch E", 36.0, 48.0),
    ];

    /// The size of that name.
    ///
    /// # Errors
    /// When there is none: the names there are.
    pub fn find(name: &str) -> Result<Self, Stop> {
        let key = name.trim().to_lowercase().replace(' ', "-");
        Self::ALL.iter().find(|paper| paper.key == key).copied().ok_or_else(|| {
            let names: Vec<&str> = Self::ALL.iter().map(|paper| paper.key).collect();
            Stop::new(
                "choosing the paper",
                format!("there is no paper called \"{name}\""),
                format!("the sizes are {}", names.join(", ")),
            )
        })
    }

    /// Width and height, upright.
    #[must_use]
    pub fn upright(self) -> (PaperLength, PaperLength) {
        (PaperLength::millimetres(self.short), PaperLength::millimetres(self.long))
    }
}
