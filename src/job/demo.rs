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

/// The photographs of the demonstration jobs, by the name the jobs give them.
const PICTURES: &[(&str, &[u8])] = &[
    (
        "photos/A1_cannery_oblique.jpg",
        include_bytes!("../../data/demo/photos/A1_cannery_oblique.jpg"),
    ),
    (
        "photos/A2_cannery_archive.jpg",
        include_bytes!("../../data/demo/photos/A2_cannery_archive.jpg"),
    ),
    ("photos/A3_cannery_gable.jpg", include_bytes!("../../data/demo/photos/A3_cannery_gable.jpg")),
    (
        "photos/B1_grainstore_gable.jpg",
        include_bytes!("../../data/demo/photos/B1_grainstore_gable.jpg"),
    ),
    (
        "photos/B2_grainstore_track.jpg",
        include_bytes!("../../data/demo/photos/B2_grainstore_track.jpg"),
    ),
    (
        "photos/C1_creamery_front.jpg",
        include_bytes!("../../data/demo/photos/C1_creamery_front.jpg"),
    ),
    (
        "photos/C2_creamery_corner.jpg",
        include_bytes!("../../data/demo/photos/C2_creamery_corner.jpg"),
    ),
];

/// The bytes of a photograph of a demonstration job, by its file name there.
#[must_use]
pub fn picture(file: &str) -> Option<&'static [u8]> {
    PICTURES.iter().find(|(name, _)| *name == file).map(|(_, bytes)| *bytes)
}

/// The demonstration job of that name.
#[must_use]
pub fn find(name: &str) -> Option<&'static Demo> {
    DEMOS.iter().find(|demo| demo.name == name)
}
