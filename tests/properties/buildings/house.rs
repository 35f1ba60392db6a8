//! Buildings that the trade could build, drawn at random and written as jobs:
//! a main body, what stands against it, out from it, on its roof and beside it.
//!
//! Sizes are full-size inches, thicknesses inches on the model. Layers stay
//! under a quarter of the shortest wall, pitches between 0.02 and 1.5, bodies
//! two levels deep.

use std::fmt::Write as _;

use crate::numbers::Numbers;

/// How a building is written down.
#[derive(Clone, Copy)]
pub(super) struct How {
    /// Left and right exchanged.
    pub(super) mirrored: bool,
    /// Bodies but the main one, walls and corners in the opposite order.
    pub(super) swapped: bool,
    /// Every model length so many times as large, and the scale with it.
    pub(super) times: f64,
}

impl How {
    pub(super) const AS_IT_IS: Self = Self { mirrored: false, swapped: false, times: 1.0 };
}

/// What a body stands on.
#[derive(Clone, Debug)]
pub(super) enum Stand {
    Free,
    Against(String, &'static str),
    Out(String, &'static str),
    Ridge(String),
    Slope(String, &'static str, f64),
    Beside(String, &'static str, f64),
}

#[derive(Clone, Debug)]
pub(super) struct Roof {
    pub(super) kind: &'static str,
    pub(super) pitch: f64,
    /// Of a gambrel: upper pitch and lower run.
    pub(super) upper: Option<(f64, f64)>,
    pub(super) eave: f64,
    pub(super) rake: f64,
    pub(super) fascia: bool,
    pub(super) lifts: bool,
}

#[derive(Clone, Debug)]
pub(super) struct Mass {
    pub(super) name: String,
    pub(super) stand: Stand,
    /// From the left corner of the wall it stands against, seen from outside.
    pub(super) at: f64,
    /// Length of that wall.
    pub(super) host: f64,
    pub(super) length: f64,
    pub(super) depth: f64,
    pub(super) eave: f64,
    pub(super) roof: Roof,
    pub(super) posts: bool,
}

#[derive(Clone, Debug)]
pub(super) struct Face {
    pub(super) body: String,
    pub(super) side: &'static str,
    pub(super) width: f64,
    pub(super) layers: Option<&'static str>,
    /// Kind, left edge, width.
    pub(super) openings: Vec<(&'static str, f64, f64)>,
}

#[derive(Clone, Debug)]
pub(super) struct Joint {
    pub(super) body: String,
    pub(super) along: &'static str,
    pub(super) end: &'static str,
    pub(super) joint: &'static str,
    pub(super) end_core: bool,
    pub(super) end_covers: bool,
}

#[derive(Clone, Debug)]
pub(super) struct House {
    pub(super) number: u64,
    pub(super) ratio: f64,
    pub(super) metric: bool,
    pub(super) core: f64,
    pub(super) skin: f64,
    pub(super) sheet: f64,
    pub(super) cladding: &'static str,
    pub(super) remainder: &'static str,
    pub(super) board: f64,
    pub(super) trim: bool,
    pub(super) casting: bool,
    pub(super) layers: &'static str,
    pub(super) bodies: Vec<Mass>,
    pub(super) walls: Vec<Face>,
    pub(super) joints: Vec<Joint>,
    /// Width and height of a deck before the front, and whether it has steps.
    pub(super) deck: Option<(f64, f64, bool)>,
}

const CLADDINGS: [&str; 7] =
    ["board-and-batten", "boards", "clapboard", "corrugated", "brick", "shingle", "scribed"];

/// The side on the other hand.
pub(super) fn other_hand(side: &str) -> &str {
    match side {
        "left" => "right",
        "right" => "left",
        _ => side,
    }
}

impl House {
    pub(super) fn drawn(number: u64) -> Self {
        let mut n = Numbers::of(number);
        let ratio = n.pick(&[32.0, 43.5, 48.0, 48.0, 64.0, 76.2, 87.0, 120.0, 160.0]);
        let (length, depth) = (n.between(200.0, 640.0), n.between(160.0, 360.0));
        // The shortest wall of all is 80.
        let thin = |n: &mut Numbers, of: &[f64]| {
            let fits: Vec<f64> = of.iter().copied().filter(|it| it * ratio < 6.0).collect();
            n.pick(&fits)
        };
        let core = thin(&mut n, &[0.02, 0.03125, 0.04, 0.0625, 0.09375]);
        let skin = thin(&mut n, &[0.005, 0.01, 0.015625, 0.02, 0.03125]);
        let sheet = thin(&mut n, &[0.01, 0.02, 0.03125, 0.0625]);
        let mut house = Self {
            number,
            ratio,
            metric: n.one_in(4),
            core,
            skin,
            sheet,
            cladding: n.pick(&CLADDINGS),
            remainder: n.pick(&["leave", "centre", "adjust"]),
            board: n.between(6.0, 14.0),
            trim: n.one_in(2),
            casting: n.one_in(2),
            layers: n.pick(&["boards, core", "boards, core", "boards, core", "core", "boards"]),
            bodies: Vec::new(),
            walls: Vec::new(),
            joints: Vec::new(),
            deck: None,
        };
        house.main(&mut n, length, depth);
        house.others(&mut n);
        for at in 0..house.bodies.len() {
            house.faces(&mut n, at);
        }
        house
    }

    fn main(&mut self, n: &mut Numbers, length: f64, depth: f64) {
        let kind = n.pick(&["gable", "gable", "shed", "hip", "flat", "gambrel"]);
        let pitch = match kind {
            "shed" => (n.between(1.0, 16.0) / 40.0).max(0.02),
            "flat" => 0.0,
            "gambrel" => n.between(24.0, 36.0) / 24.0,
            _ => n.between(4.0, 36.0) / 24.0,
        };
        // A hip needs a ridge; a low one keeps its eaves on the wall.
        let depth = if kind == "hip" { depth.min(length - 20.0) } else { depth };
        let roof = Roof {
            kind,
            pitch,
            upper: (kind == "gambrel").then(|| (n.between(4.0, 10.0) / 24.0, depth / 4.0)),
            eave: n.pick(&[0.0, 6.0, 12.0, 18.0]),
            rake: n.pick(&[0.0, 6.0, 12.0]),
            fascia: n.one_in(3),
            lifts: kind == "gable" && n.one_in(4),
        };
        self.bodies.push(Mass {
            name: "main".into(),
            stand: Stand::Free,
            at: 0.0,
            host: 0.0,
            length,
            depth,
            eave: n.between(120.0, 216.0),
            roof,
            posts: false,
        });
    }

    /// What stands against and on the main body; each wall has one at most.
    fn others(&mut self, n: &mut Numbers) {
        let main = self.bodies[0].clone();
        for side in ["front", "right", "back", "left"] {
            let long = if matches!(side, "left" | "right") { main.depth } else { main.length };
            match (n.share() * 9.0) as u32 {
                0 | 1 => self.lean_to(n, &main, side, long),
                2 => self.wing(n, &main, side, long),
                3 => self.canopy(n, &main, side, long),
                4 if side != "front" && side != "back" => self.tower(n, &main, side, long),
                _ => {}
            }
        }
        let slopes = matches!(main.roof.kind, "gable" | "hip");
        if slopes && main.roof.pitch > 0.3 && n.one_in(3) {
            self.dormer(n, &main);
        } else if main.roof.kind == "gable" && n.one_in(3) {
            self.cupola(n, &main);
        }
        let free =
            |stand: &Stand| !matches!(stand, Stand::Against(_, "front") | Stand::Out(_, "front"));
        if self.bodies.iter().all(|body| free(&body.stand)) && n.one_in(3) {
            self.deck = Some((n.between(36.0, 96.0), n.between(18.0, 48.0), n.one_in(2)));
        }
    }

    /// The highest that something under the roof of a body may reach at a wall.
    fn under(&self, host: &Mass, side: &str) -> f64 {
        let drop = if side == "front" || side == "back" || host.roof.kind == "hip" {
            host.roof.pitch * host.roof.eave + 8.0 * f64::from(u8::from(host.roof.fascia))
        } else {
            0.0
        };
        host.eave - drop - 3.0
    }

    /// A place along a wall, clear of its corners.
    fn along(n: &mut Numbers, long: f64) -> Option<(f64, f64)> {
        let length = n.between(80.0, (long - 60.0).min(220.0));
        (length + 60.0 <= long).then(|| (n.between(30.0, long - 30.0 - length), length))
    }

    fn lean_to(&mut self, n: &mut Numbers, host: &Mass, side: &'static str, long: f64) {
        let Some((at, length)) = Self::along(n, long) else { return };
        let pitch = (n.between(1.0, 16.0) / 40.0).max(0.02);
        let depth = n.between(80.0, 140.0);
        let upright = self.sheet * self.ratio * pitch.hypot(1.0);
        let highest = self.under(host, side) - upright - pitch * depth;
        if highest < 60.0 {
            return;
        }
        let roof = Roof {
            kind: "shed",
            pitch,
            upper: None,
            eave: n.pick(&[0.0, 6.0, 12.0]),
            rake: n.pick(&[0.0, 4.0, 8.0]),
            fascia: n.one_in(4),
            lifts: false,
        };
        let eave = n.between(60.0, highest.min(130.0)).min(highest);
        let stand = Stand::Against(host.name.clone(), side);
        let name = format!("{side}-lean");
        self.push(Mass { name, stand, at, host: long, length, depth, eave, roof, posts: false });
    }

    fn wing(&mut self, n: &mut Numbers, host: &Mass, side: &'static str, long: f64) {
        let Some((at, length)) = Self::along(n, long) else { return };
        let depth = n.between(90.0, 240.0);
        let along_eave = matches!(side, "front" | "back");
        // The same eave and pitch, so that the two meet in valleys; or all of it
        // under the eave.
        let meets = host.roof.kind == "gable" && along_eave && length < host.depth * 0.9;
        let (eave, pitch, over) = if meets && n.one_in(2) {
            (host.eave, host.roof.pitch, host.roof.eave)
        } else {
            let pitch = n.between(4.0, 24.0) / 24.0;
            let upright = self.sheet * self.ratio * pitch.hypot(1.0);
            let eave = self.under(host, side) - pitch * length / 2.0 - upright;
            (eave.floor(), pitch, n.pick(&[0.0, 6.0, 12.0]))
        };
        if eave < 70.0 {
            return;
        }
        let roof = Roof {
            kind: "gable",
            pitch,
            upper: None,
            eave: over,
            rake: n.pick(&[0.0, 6.0, 12.0]),
            fascia: host.roof.fascia,
            lifts: false,
        };
        let stand = Stand::Out(host.name.clone(), side);
        let name = format!("{side}-wing");
        let wing = Mass { name, stand, at, host: long, length, depth, eave, roof, posts: false };
        self.push(wing.clone());
        if n.one_in(3) {
            let before = self.bodies.len();
            self.lean_to(n, &wing, "left", depth);
            if let Some(body) = self.bodies.get_mut(before) {
                body.name = format!("{}-leaf", wing.name);
            }
        }
    }

    fn canopy(&mut self, n: &mut Numbers, host: &Mass, side: &'static str, long: f64) {
        let Some((at, length)) = Self::along(n, long) else { return };
        let pitch = n.between(2.0, 12.0) / 48.0;
        let depth = n.between(60.0, 120.0);
        let upright = self.sheet * self.ratio * pitch.hypot(1.0);
        let highest = self.under(host, side) - upright - pitch * depth;
        if highest < 84.0 {
            return;
        }
        let roof = Roof {
            kind: "shed",
            pitch,
            upper: None,
            eave: n.pick(&[6.0, 12.0]),
            rake: 0.0,
            fascia: false,
            lifts: false,
        };
        let eave = n.between(84.0, highest).min(highest);
        let stand = Stand::Against(host.name.clone(), side);
        let name = format!("{side}-canopy");
        self.push(Mass { name, stand, at, host: long, length, depth, eave, roof, posts: true });
    }

    fn tower(&mut self, n: &mut Numbers, host: &Mass, side: &'static str, long: f64) {
        let gap = n.between(24.0, 72.0) + host.roof.rake.max(host.roof.eave);
        let kind = n.pick(&["gable", "hip", "shed", "flat"]);
        let length = n.between(84.0, 140.0);
        let depth = if kind == "hip" { length - 4.0 } else { n.between(80.0, 140.0) };
        let pitch = match kind {
            "flat" => 0.0,
            "shed" => n.between(1.0, 12.0) / 40.0,
            _ => n.between(4.0, 36.0) / 24.0,
        };
        let roof = Roof {
            kind,
            pitch,
            upper: None,
            eave: n.pick(&[0.0, 6.0, 12.0]),
            rake: n.pick(&[0.0, 6.0, 12.0]),
            fascia: false,
            lifts: false,
        };
        let stand = Stand::Beside(host.name.clone(), side, gap);
        let name = format!("{side}-tower");
        let eave = n.between(100.0, 360.0);
        self.push(Mass {
            name,
            stand,
            at: 0.0,
            host: long,
            length,
            depth,
            eave,
            roof,
            posts: false,
        });
    }

    fn dormer(&mut self, n: &mut Numbers, host: &Mass) {
        let length = n.between(40.0, 60.0);
        let run = host.depth / 2.0;
        let inset = if host.roof.kind == "hip" { run + 20.0 } else { 30.0 };
        if host.length < 2.0 * inset + length {
            return;
        }
        let at = n.between(inset, host.length - inset - length);
        let back = n.between(8.0, run * 0.3);
        // All of it, with its ridge, ends below the ridge.
        let pitch = n.between(3.0, 12.0) / 24.0;
        let room = (run - back) * host.roof.pitch - pitch * length / 2.0;
        let eave = n.between(18.0, 48.0).min((room * 0.7).floor());
        if eave < 14.0 {
            return;
        }
        let roof = Roof {
            kind: "gable",
            pitch,
            upper: None,
            eave: n.pick(&[0.0, 3.0]),
            rake: n.pick(&[0.0, 3.0]),
            fascia: false,
            lifts: false,
        };
        let stand = Stand::Slope(host.name.clone(), "back", back);
        // Its ridge dies on the slope before the main ridge.
        let depth = ((eave + pitch * length / 2.0) / host.roof.pitch).ceil().min(run - back);
        let (name, host) = ("dormer".to_owned(), host.length);
        self.push(Mass { name, stand, at, host, length, depth, eave, roof, posts: false });
    }

    fn cupola(&mut self, n: &mut Numbers, host: &Mass) {
        let length = n.between(36.0, 60.0);
        let depth = n.between(30.0, 48.0).min(length - 2.0);
        let at = n.between(30.0, host.length - 30.0 - length);
        let roof = Roof {
            kind: n.pick(&["gable", "hip"]),
            pitch: n.between(4.0, 24.0) / 24.0,
            upper: None,
            eave: 3.0,
            rake: 3.0,
            fascia: false,
            lifts: false,
        };
        let stand = Stand::Ridge(host.name.clone());
        let eave = n.between(20.0, 40.0) + host.roof.pitch * depth / 2.0;
        let (name, host) = ("cupola".to_owned(), host.length);
        self.push(Mass { name, stand, at, host, length, depth, eave, roof, posts: false });
    }

    fn push(&mut self, body: Mass) {
        self.bodies.push(body);
    }

    /// The walls of a body: openings clear of corners, of the top and of what
    /// stands there; and its corners.
    fn faces(&mut self, n: &mut Numbers, at: usize) {
        let body = self.bodies[at].clone();
        if body.posts {
            return;
        }
        let stands_on = matches!(body.stand, Stand::Ridge(_) | Stand::Slope(..));
        let open = matches!(body.stand, Stand::Against(..) | Stand::Out(..) | Stand::Slope(..));
        let sides: Vec<&str> = ["front", "left", "right", "back"]
            .into_iter()
            .filter(|it| !(open && *it == "back"))
            .collect();
        for side in &sides {
            let width = if matches!(*side, "left" | "right") { body.depth } else { body.length };
            let taken = self.bodies.iter().any(|it| match &it.stand {
                Stand::Against(host, of) | Stand::Out(host, of) => *host == body.name && of == side,
                _ => false,
            });
            let mut openings = Vec::new();
            if !taken && !stands_on && width > 76.0 && n.one_in(2) {
                let kind = n.pick(&["door", "window"]);
                let wide = if kind == "door" { 34.0 } else { 24.0 };
                openings.push((kind, n.between(20.0, width - 20.0 - wide), wide));
            }
            let own = n.one_in(6) && !stands_on && self.layers == "boards, core";
            let layers = own.then(|| n.pick(&["card", "core"]));
            if layers.is_some() || !openings.is_empty() {
                let body = body.name.clone();
                self.walls.push(Face { body, side, width, layers, openings });
            }
        }
        for (along, end) in
            [("front", "left"), ("front", "right"), ("back", "left"), ("back", "right")]
        {
            if (along == "back" && open) || stands_on || !n.one_in(3) {
                continue;
            }
            let single = self.layers == "boards";
            let joint = n.pick(&["butt", "butt", "mitre", if single { "post" } else { "butt" }]);
            let (end_core, end_covers) = (n.one_in(2), n.one_in(2));
            let body = body.name.clone();
            self.joints.push(Joint { body, along, end, joint, end_core, end_covers });
        }
    }

    fn full(&self, inches: f64) -> String {
        if self.metric {
            format!("\"{:.3} mm\"", inches * 25.4)
        } else {
            format!("\"{inches:.3} in\"")
        }
    }

    fn pitch(&self, pitch: f64) -> String {
        format!("\"{pitch:.6}\"")
    }

    /// The job as text.
    pub(super) fn text(&self, how: How) -> String {
        let model = |inches: f64| format!("\"{:.9} in\"", inches * how.times);
        let mut out = String::new();
        let ratio = format!("{:.6}", self.ratio / how.times);
        let units = if self.metric { "metric" } else { "feet-inches" };
        let _ = writeln!(
            out,
            "[job]\nname = \"building {}\"\nscale = \"1:{ratio}\"\nunits = \"{units}\"\n",
            self.number
        );
        for (name, does, thick) in [
            ("core", "core", self.core),
            ("card", "core", self.core / 2.0),
            ("roof-sheet", "roof", self.sheet),
        ] {
            let _ = writeln!(
                out,
                "[[layer]]\nname = \"{name}\"\ndoes = \"{does}\"\nthick = {}\n",
                model(thick)
            );
        }
        self.cladding(&mut out, &model);
        let _ = writeln!(
            out,
            "[walls]\nlayers = [{}]\ndoubler = {}\nbracing = {}\nblock = {}\n{}",
            quoted(self.layers),
            model(0.25),
            model(0.25),
            model(0.25),
            if self.trim { "" } else { "trim = []\n" }
        );
        let _ = writeln!(out, "[trim]\nthick = {}\n", model(self.skin));
        if self.trim {
            let _ = writeln!(
                out,
                "corner = {}\nfrieze = {}\nwater-table = {}\n",
                self.full(5.0),
                self.full(6.0),
                self.full(7.0)
            );
        }
        let _ = writeln!(
            out,
            "[cutting]\nstick = {}\nsheets = [[{}, {}]]\n",
            model(24.0),
            model(4.0),
            model(22.0)
        );
        self.kinds(&mut out, &model);
        let bodies: Vec<&Mass> = match how.swapped {
            false => self.bodies.iter().collect(),
            true => self.bodies[..1].iter().chain(self.bodies[1..].iter().rev()).collect(),
        };
        for body in bodies {
            self.body(&mut out, body, how);
        }
        let mut walls: Vec<String> = self.walls.iter().map(|wall| self.wall(wall, how)).collect();
        walls.extend(self.joints.iter().map(|joint| self.joint(joint, how, &model)));
        walls
            .extend(self.bodies.iter().filter(|body| body.posts).map(|body| self.posts(body, how)));
        if how.swapped {
            walls.reverse();
        }
        out.push_str(&walls.concat());
        self.deck(&mut out, how);
        out
    }

    fn deck(&self, out: &mut String, how: How) {
        if let Some((width, height, steps)) = self.deck {
            let _ = writeln!(
                out,
                "[[deck]]\nname = \"deck\"\nof = \"main/front\"\nwidth = {}\nheight = {}\nplank = {}\nthickness = {}\n{}",
                self.full(width),
                self.full(height),
                self.full(8.0),
                self.full(2.0),
                if steps {
                    let side = if how.mirrored { "left" } else { "right" };
                    format!(
                        "steps = {{ side = \"{side}\", riser = {}, tread = {} }}\n",
                        self.full(8.0),
                        self.full(10.0)
                    )
                } else {
                    String::new()
                }
            );
        }
    }

    fn cladding(&self, out: &mut String, model: &dyn Fn(f64) -> String) {
        let scribed = self.cladding == "scribed";
        let kind = if scribed { "boards" } else { self.cladding };
        let _ = writeln!(
            out,
            "[[cladding]]\nname = \"boards\"\nkind = \"{kind}\"\n{}thick = {}\n{}{}{}",
            match kind {
                "clapboard" | "shingle" => String::new(),
                "brick" => format!("unit = {}\n", self.full(2.75)),
                _ => format!("unit = {}\n", self.full(self.board)),
            },
            model(self.skin),
            if scribed { "scribed = true\n" } else { "" },
            match kind {
                "board-and-batten" => format!("batten = {}\n", self.full(2.5)),
                "clapboard" | "shingle" => format!("exposure = {}\n", self.full(6.0)),
                _ => String::new(),
            },
            if matches!(kind, "boards" | "board-and-batten") && !scribed {
                format!("remainder = \"{}\"\n", self.remainder)
            } else {
                String::new()
            }
        );
        let _ = writeln!(
            out,
            "[[cladding]]\nname = \"shingles\"\nkind = \"shingle\"\nexposure = {}\nthick = {}\n",
            self.full(6.0),
            model(0.005)
        );
    }

    fn kinds(&self, out: &mut String, model: &dyn Fn(f64) -> String) {
        let trim = if self.trim { format!("trim = {}\n", self.full(4.0)) } else { String::new() };
        let casting = |wide: f64, high: f64| {
            let (wide, high) = (model(wide / self.ratio), model(high / self.ratio));
            if self.casting {
                format!("casting = {{ frame = [{wide}, {high}] }}\n")
            } else {
                String::new()
            }
        };
        let _ = writeln!(
            out,
            "[[opening]]\nname = \"door\"\nwhat = \"door\"\nwidth = {}\nheight = {}\n{trim}",
            self.full(34.0),
            self.full(50.0)
        );
        let _ = writeln!(
            out,
            "[[opening]]\nname = \"window\"\nwhat = \"window\"\nwidth = {}\nheight = {}\nsill = {}\n{trim}{}",
            self.full(24.0),
            self.full(30.0),
            self.full(20.0),
            casting(25.0, 31.0)
        );
    }

    fn body(&self, out: &mut String, body: &Mass, how: How) {
        let hand =
            |side: &str| if how.mirrored { other_hand(side).to_owned() } else { side.to_owned() };
        let name = name(&body.name, how);
        let at = if how.mirrored { body.host - body.at - body.length } else { body.at };
        let at = self.full(at);
        let stands = match &body.stand {
            Stand::Free => String::new(),
            Stand::Against(host, side) => {
                format!(
                    "stands = {{ against = \"{}/{}\", at = {at} }}\n",
                    self::name(host, how),
                    hand(side)
                )
            }
            Stand::Out(host, side) => {
                format!(
                    "stands = {{ out = \"{}/{}\", at = {at} }}\n",
                    self::name(host, how),
                    hand(side)
                )
            }
            Stand::Ridge(host) => {
                format!("stands = {{ on = \"{}/ridge\", at = {at} }}\n", self::name(host, how))
            }
            Stand::Slope(host, side, back) => format!(
                "stands = {{ on = \"{}/{side}\", at = {at}, back = {} }}\n",
                self::name(host, how),
                self.full(*back)
            ),
            Stand::Beside(host, side, gap) => format!(
                "stands = {{ beside = \"{}/{}\", gap = {} }}\n",
                self::name(host, how),
                hand(side),
                self.full(*gap)
            ),
        };
        let _ = writeln!(
            out,
            "[[body]]\nname = \"{name}\"\n{stands}length = {}\ndepth = {}\neave = {}\n{}{}",
            self.full(body.length),
            self.full(body.depth),
            self.full(body.eave),
            if body.posts { "walls = []\n" } else { "" },
            self.roof(&body.roof)
        );
    }

    fn roof(&self, roof: &Roof) -> String {
        let mut out = format!("[body.roof]\nkind = \"{}\"\nsheet = \"roof-sheet\"\n", roof.kind);
        if roof.kind != "flat" {
            let _ = writeln!(out, "pitch = {}", self.pitch(roof.pitch));
            let _ = writeln!(out, "cladding = \"shingles\"");
        }
        if let Some((pitch, run)) = roof.upper {
            let _ = writeln!(
                out,
                "upper-pitch = {}\nlower-run = {}",
                self.pitch(pitch),
                self.full(run)
            );
        }
        let _ = writeln!(out, "eave = {}\nrake = {}", self.full(roof.eave), self.full(roof.rake));
        if roof.fascia {
            let _ = writeln!(out, "fascia = {}", self.full(5.0));
        }
        if roof.lifts {
            out.push_str("lifts-off = true\n");
        }
        out
    }

    fn wall(&self, wall: &Face, how: How) -> String {
        let side = if how.mirrored { other_hand(wall.side) } else { wall.side };
        let mut out = format!("[[wall]]\nof = \"{}/{side}\"\n", name(&wall.body, how));
        if let Some(layers) = wall.layers {
            let _ = writeln!(out, "layers = [{}]", quoted(layers));
        }
        let openings: Vec<String> = wall
            .openings
            .iter()
            .map(|(kind, at, wide)| {
                let at = if how.mirrored { wall.width - at - wide } else { *at };
                format!("{{ kind = \"{kind}\", at = {} }}", self.full(at))
            })
            .collect();
        let _ = writeln!(out, "openings = [{}]\n", openings.join(", "));
        out
    }

    fn joint(&self, joint: &Joint, how: How, model: &dyn Fn(f64) -> String) -> String {
        let end = if how.mirrored { other_hand(joint.end) } else { joint.end };
        let side = |it: bool| if it { end } else { joint.along };
        let mut out = format!(
            "[[corner]]\nof = \"{}/{}-{end}\"\njoint = \"{}\"\n",
            name(&joint.body, how),
            joint.along,
            joint.joint
        );
        match joint.joint {
            "post" => {
                let _ = writeln!(out, "post = {}", model(self.skin * 1.5));
            }
            "butt" => {
                let _ = writeln!(
                    out,
                    "core = \"{}\"\ncladding = \"{}\"",
                    side(joint.end_core),
                    side(joint.end_covers)
                );
            }
            _ => {
                let _ = writeln!(out, "cladding = \"{}\"", side(joint.end_covers));
            }
        }
        out.push('\n');
        out
    }

    /// Rafters, a beam and posts under a canopy.
    fn posts(&self, body: &Mass, how: How) -> String {
        let (name, full) = (name(&body.name, how), |it: f64| self.full(it));
        format!(
            "[[member]]\nname = \"{name}-rafter\"\nof = \"{name}\"\nthickness = {}\nwidth = {}\nunder-roof = true\nat = {}\nevery = {}\n\n\
             [[member]]\nname = \"{name}-beam\"\nof = \"{name}\"\nthickness = {}\nwidth = {}\ncarries = \"{name}-rafter\"\n\n\
             [[member]]\nname = \"{name}-post\"\nof = \"{name}\"\nthickness = {}\nwidth = {}\ncarries = \"{name}-beam\"\nat = {}\nspacing = {}\n\n",
            full(2.0),
            full(4.0),
            full(6.0),
            full(24.0),
            full(6.0),
            full(8.0),
            full(6.0),
            full(6.0),
            full(6.0),
            full(96.0),
        )
    }
}

/// The name of a body: left and right in it exchanged with the building.
fn name(body: &str, how: How) -> String {
    if !how.mirrored {
        return body.to_owned();
    }
    let marked = body.replace("left", "\u{1}").replace("right", "left");
    marked.replace('\u{1}', "right")
}

fn quoted(names: &str) -> String {
    let names: Vec<String> = names.split(", ").map(|name| format!("\"{name}\"")).collect();
    names.join(", ")
}
