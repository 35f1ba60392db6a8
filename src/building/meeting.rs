//! What meets what, and which of the two is trimmed on the bench.
//!
//! Parts are cut square where the trade cuts them square: tops of walls are
//! eased to the roof, the end of an annex to the boards above it. Until then
//! two solids share a little space; a meeting names the piece that gives way
//! and bounds how deep the other runs into it.

use super::body::Stand;
use super::frame::MemberKind;
use super::layer::{Layer, Role};
use super::wall::Wall;
use super::{Body, Building, Member, RoofPlane};

/// Two pieces that meet.
#[derive(Clone, Debug, PartialEq)]
pub struct Meeting {
    /// One, by its path: `leanto/left/core`, `main/roof/front`.
    pub a: String,
    /// The other.
    pub b: String,
    /// The one that is trimmed.
    pub trimmed: String,
    /// The deepest that they share space before that, inches at full size.
    pub most: f64,
}

impl Meeting {
    fn of(trimmed: String, other: String, most: f64) -> Self {
        Self { a: trimmed.clone(), b: other, trimmed, most }
    }
}

impl RoofPlane {
    /// Its path.
    #[must_use]
    pub fn path(&self) -> String {
        let part = if self.upper { "/upper" } else { "" };
        format!("{}/roof/{}{part}", self.body, self.over)
    }
}

impl Member {
    /// Its path.
    #[must_use]
    pub fn path(&self) -> String {
        format!("{}/{} {}", self.body, self.name, self.number)
    }
}

impl Building {
    /// Meetings where a piece is trimmed.
    #[must_use]
    pub fn meetings(&self) -> Vec<Meeting> {
        let mut meetings = self.walls_under_roofs();
        meetings.extend(self.ends_against_walls());
        meetings.extend(self.walls_on_roofs());
        meetings.extend(self.timbers());
        meetings
    }

    /// Layers of a wall with the wall.
    fn layers(&self) -> impl Iterator<Item = (&Wall, &Layer)> {
        self.walls.iter().flat_map(|wall| wall.layers.iter().map(move |layer| (wall, layer)))
    }

    /// The top of a wall is cut square and eased to the sheet on it: what the
    /// slope takes over its depth in from the face.
    fn walls_under_roofs(&self) -> Vec<Meeting> {
        let pairs = self.layers().flat_map(|(wall, layer)| {
            let own = self.planes.iter().filter(move |plane| plane.body == wall.id.body);
            own.map(move |plane| (layer, plane))
        });
        pairs
            .map(|(layer, plane)| {
                let most = plane.pitch * (layer.out + layer.full);
                Meeting::of(layer.id.to_string(), plane.path(), most)
            })
            .collect()
    }

    /// The ends of a body run on to the bare core of the wall it stands against;
    /// their tops are pared within the cladding that is left off there.
    fn ends_against_walls(&self) -> Vec<Meeting> {
        let mut meetings = Vec::new();
        for host in &self.walls {
            for behind in host.behind.iter().filter(|it| it.bare) {
                let Some(body) = self.body(&behind.body) else { continue };
                let clad = host.layers.iter().filter(|it| it.role == Role::Cladding);
                let missing: f64 = clad.clone().map(|it| it.full).sum();
                let ends = self
                    .layers()
                    .filter(|(wall, _)| wall.id.body == behind.body && wall.id.side.is_end());
                for (_, layer) in ends {
                    meetings.extend(clad.clone().map(|over| {
                        let most = missing * body.pitch.value;
                        Meeting::of(layer.id.to_string(), over.id.to_string(), most)
                    }));
                }
            }
        }
        meetings
    }

    /// The foot of a wall on a roof is cut to the slope at its face.
    fn walls_on_roofs(&self) -> Vec<Meeting> {
        let under = |body: &Body| match body.stand {
            Stand::Ridge(host) | Stand::Slope(host, _) => self.bodies.get(host),
            _ => None,
        };
        let mut meetings = Vec::new();
        for body in &self.bodies {
            let Some(host) = under(body) else { continue };
            let layers = self.layers().filter(|(wall, _)| wall.id.body == body.name);
            for (_, layer) in layers {
                let planes = self.planes.iter().filter(|plane| plane.body == host.name);
                meetings.extend(planes.map(|plane| {
                    let most = plane.pitch * (layer.out + layer.full);
                    Meeting::of(layer.id.to_string(), plane.path(), most)
                }));
            }
        }
        meetings
    }

    /// Rafters lie on a ledger that is planed to them, and in beams that are
    /// housed for them.
    fn timbers(&self) -> Vec<Meeting> {
        let rafters = self.members.iter().filter(|it| it.kind == MemberKind::Rafter);
        let mut meetings = Vec::new();
        for rafter in rafters {
            let own = self.members.iter().filter(|it| it.body == rafter.body);
            for carrier in own {
                let housed = carrier.housings.iter().find(|it| it.of == rafter.name);
                let slope = rafter.from_level.in_degrees().to_radians().tan().abs();
                let most = match (carrier.kind, housed) {
                    (_, Some(housing)) => {
                        housing.inner.length.max(housing.outer.length).in_inches()
                    }
                    (MemberKind::Ledger, None) => slope * carrier.across[0].1 * 2.0,
                    _ => continue,
                };
                meetings.push(Meeting::of(carrier.path(), rafter.path(), most));
            }
        }
        meetings
    }
}
