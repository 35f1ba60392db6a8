//! The demonstration jobs that are built into the program.

/// A job built into the program.
#[derive(Clone, Copy, Debug)]
pub struct Demo {
    /// The name it is opened by.
    pub name: &'static str,
    /// What it shows.
    pub about: &'static str,
    /// Its text.
    pub text: &'static str,
}

/// The demonstration jobs; the first is opened when no job is named.
pub const DEMOS: &[Demo] = &[
    Demo {
        name: "grain-store",
        about: "measured by hand, one reading a foot out; 1:48",
        text: include_str!("../../data/demo/grain-store.toml"),
    },
    Demo {
        name: "river-cannery",
        about: "counted and estimated from afar, 15 bays too long; 1:87.1",
        text: include_str!("../../data/demo/river-cannery.toml"),
    },
    Demo {
        name: "creamery",
        about: "lost; two photographs and a map; 1:64",
        text: include_str!("../../data/demo/creamery.toml"),
    },
];

/// The demonstration job of that name.
#[must_use]
pub fn find(name: &str) -> Option<&'static Demo> {
    DEMOS.iter().find(|demo| demo.name == name)
}
