//! Made-up networks like those of the built-in jobs.

use std::fmt::Write as _;

use scantling::job::Job;

/// Numbers by chance, the same for the same seed (splitmix64).
pub(super) struct Chance(u64);

impl Chance {
    pub(super) fn new(seed: u64) -> Self {
        // Seeds that follow each other must not give streams that do.
        let mut first = Self(seed ^ 0x5851_f42d_4c95_7f2d);
        let far = first.next();
        Self(far.wrapping_mul(0xd134_2543_de82_ef95) ^ far.rotate_left(23))
    }

    fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        z ^ (z >> 31)
    }

    /// Between zero and one.
    pub(super) fn share(&mut self) -> f64 {
        (self.next() >> 11) as f64 / (1_u64 << 53) as f64
    }

    pub(super) fn below(&mut self, end: usize) -> usize {
        (self.share() * end as f64) as usize % end.max(1)
    }

    pub(super) fn between(&mut self, low: f64, high: f64) -> f64 {
        low + self.share() * (high - low)
    }

    /// Normally spread with a standard deviation of one (Box and Muller).
    fn normal(&mut self) -> f64 {
        let (a, b) = (self.share().max(1e-300), self.share());
        (-2.0 * a.ln()).sqrt() * (2.0 * std::f64::consts::PI * b).cos()
    }
}

/// How a value is written.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(super) enum Style {
    Inches,
    FeetInches,
}

#[derive(Clone)]
pub(super) struct Drawn {
    pub(super) id: String,
    pub(super) of: String,
    pub(super) method: &'static str,
    pub(super) value: f64,
    pub(super) sigma: f64,
    pub(super) style: Style,
    /// The text, where a slip of the pen changed it.
    pub(super) text: Option<String>,
    pub(super) pull: Option<&'static str>,
    /// Count and unit, for a count; what is left over is then in `over`.
    pub(super) count: Option<(u32, f64)>,
    /// What a count leaves over.
    pub(super) over: f64,
}

impl Drawn {
    /// The value as it is written down: to eighths, or to hundredths where it
    /// was read finer.
    pub(super) fn written(&self) -> String {
        if let Some(text) = &self.text {
            return text.clone();
        }
        let eighths = (self.value * 8.0).round();
        match self.style {
            Style::Inches if self.sigma < 0.1 => format!(
                "{} {}/4 in",
                (self.value * 4.0).round() as i64 / 4,
                (self.value * 4.0).round() as i64 % 4
            )
            .replace(" 0/4", ""),
            Style::Inches => format!("{} in", eighths / 8.0),
            Style::FeetInches => {
                let (feet, rest) = ((eighths / 96.0).floor(), eighths % 96.0);
                let (inches, parts) = ((rest / 8.0).floor(), rest % 8.0);
                let parts = if parts > 0.0 { format!(" {parts}/8") } else { String::new() };
                format!("{feet} ft {inches}{parts} in")
            }
        }
    }
}

#[derive(Clone, Default)]
pub(super) struct Network {
    pub(super) truth: Vec<(String, f64)>,
    pub(super) ties: Vec<String>,
    pub(super) readings: Vec<Drawn>,
    /// The bay, where there is one.
    pub(super) bay: Option<f64>,
    /// The overall length.
    pub(super) overall: f64,
}

impl Network {
    pub(super) fn draw(chance: &mut Chance) -> Self {
        if chance.share() < 0.6 { measured(chance) } else { counted(chance) }
    }

    fn dimension(&mut self, name: &str, truth: f64) {
        self.truth.push((name.to_owned(), truth));
    }

    fn read(
        &mut self,
        chance: &mut Chance,
        id: &str,
        of: &str,
        method: &'static str,
        truth: f64,
        sigma: f64,
    ) {
        let style = if chance.share() < 0.5 { Style::Inches } else { Style::FeetInches };
        let value = truth + sigma * chance.normal();
        let style = if sigma < 0.1 { Style::Inches } else { style };
        let text = None;
        let (id, of) = (id.to_owned(), of.to_owned());
        self.readings.push(Drawn {
            id,
            of,
            method,
            value,
            sigma,
            style,
            text,
            pull: None,
            count: None,
            over: 0.0,
        });
    }

    pub(super) fn job(&self) -> Job {
        let mut text = "[job]\nname = \"drawn\"\nscale = \"1:48\"\n".to_owned();
        for (name, _) in &self.truth {
            let _ = writeln!(text, "[[dimension]]\nname = \"{name}\"");
        }
        for (at, tie) in self.ties.iter().enumerate() {
            let _ = writeln!(text, "[[tie]]\nid = \"t{at}\"\nsays = \"{tie}\"");
        }
        for reading in &self.readings {
            let Drawn { id, of, method, sigma, .. } = reading;
            let _ = writeln!(
                text,
                "[[reading]]\nid = \"{id}\"\nof = \"{of}\"\nmethod = \"{method}\"\nsigma = \"{sigma:.4} in\""
            );
            match reading.count {
                Some((count, unit)) => {
                    let _ = writeln!(
                        text,
                        "given = {{ count = \"{count}\", unit = \"{unit} in \u{b1} 0.02 in\", parts = \"{:.3} in\" }}",
                        reading.over
                    );
                }
                None => {
                    let _ = writeln!(text, "value = \"{}\"", reading.written());
                }
            }
            if let Some(pull) = reading.pull {
                let _ = writeln!(text, "pull = \"{pull}\"");
            }
        }
        text.parse().unwrap_or_else(|error| panic!("{error}\n{text}"))
    }
}

/// A face measured by hand: running edges on one pull, separate openings and
/// gaps, the overall twice, sheets counted, and a door's frame by rule.
fn measured(chance: &mut Chance) -> Network {
    let mut network = Network::default();
    let openings = 3 + chance.below(5);
    let mut at = 0.0;
    let mut edges: Vec<(String, f64)> = Vec::new();
    for opening in 0..openings {
        at += chance.between(40.0, 130.0);
        edges.push((format!("o{opening}_left"), at));
        at += chance.between(30.0, 110.0);
        edges.push((format!("o{opening}_right"), at));
    }
    let overall = ((at + chance.between(30.0, 100.0)) / 24.0).round() * 24.0;
    edges.push(("overall".to_owned(), overall));
    network.overall = overall;
    for (name, truth) in &edges {
        network.dimension(name, *truth);
    }
    // One error of the zero for the whole pull, as the method expects.
    let zero = 0.125 * chance.normal();
    for (name, truth) in &edges {
        network.read(chance, &format!("run-{name}"), name, "running-tape", truth + zero, 0.5);
        if let Some(reading) = network.readings.last_mut() {
            reading.pull = Some("front");
        }
    }
    for pair in edges.windows(2) {
        let ((a, left), (b, right)) = (&pair[0], &pair[1]);
        network.read(
            chance,
            &format!("step-{b}"),
            &format!("{b} - {a}"),
            "tape",
            right - left,
            0.25,
        );
    }
    network.read(chance, "first", "o0_left", "tape", edges[0].1, 0.25);
    for id in ["two-pulls", "other-day"] {
        network.read(chance, id, "overall", "tape", overall, 0.75);
    }
    let sheets = (overall / 24.0) as u32;
    network.read(chance, "sheets", "overall", "count", overall, 0.5);
    if let Some(reading) = network.readings.last_mut() {
        // The sheets are not quite 24 in, and what is over is read to half an
        // inch.
        let sheet = 24.0 + 0.02 * chance.normal();
        reading.over = reading.value - f64::from(sheets) * sheet;
        reading.count = Some((sheets, 24.0));
    }
    let frame = (chance.between(20.0, 50.0) * 4.0).round() / 4.0;
    network.dimension("frame", frame);
    for id in ["frame-1", "frame-2", "frame-3"] {
        network.read(chance, id, "frame", "tape", frame, 0.04);
        if let Some(reading) = network.readings.last_mut() {
            // To hundredths, as a rule is read against a quarter.
            reading.text = Some(format!("{:.2} in", reading.value));
        }
    }
    network
}

/// A face counted and paced from afar: bays and end strips, a map, a record,
/// known objects.
fn counted(chance: &mut Chance) -> Network {
    let mut network = Network::default();
    let bays = 5 + chance.below(12);
    let bay = (chance.between(90.0, 200.0) / 6.0).round() * 6.0;
    let end = chance.between(8.0, 20.0).round();
    let length = bays as f64 * bay + 2.0 * end;
    network.overall = length;
    network.bay = Some(bay);
    network.dimension("length", length);
    network.dimension("bay", bay);
    network.dimension("end", end);
    network.ties.push(format!("length = {bays} bay + 2 end"));
    for (id, method, sigma) in [
        ("paced", "pacing", 0.012 * length),
        ("paced-back", "pacing", 0.012 * length),
        ("map", "map", 24.0),
        ("record", "record", 12.0),
        ("across", "laser", 3.0),
    ] {
        network.read(chance, id, "length", method, length, sigma);
    }
    for (id, method, sigma) in [
        ("car", "known-object", 0.02 * bay),
        ("boards", "count", 0.02 * bay),
        ("bay-taped", "tape", 0.5),
        ("bay-again", "tape", 0.5),
    ] {
        network.read(chance, id, "bay", method, bay, sigma);
    }
    network.read(chance, "strip", "end", "tape", end, 0.5);
    network.read(chance, "strip-again", "end", "tape", end, 0.5);
    network
}
