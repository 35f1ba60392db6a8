//! Random buildings that the trade could build, judged apart from the program's
//! own arithmetic.
//!
//! A few hundred in every run; as many as `SCANTLING_BUILDINGS` says otherwise.
//! What is wrong is told with the number of the building: `SCANTLING_BUILDING=17`
//! prints that one's job and judges it alone.

mod house;
mod solids;

use std::collections::BTreeMap;

use house::{House, How, other_hand};
use scantling::building::{Building, Role, Why};
use scantling::catalog::Catalog;
use scantling::job::document::Document;
use scantling::job::wall::Corners;
use scantling::plan::{Plan, plan};
use scantling::takeoff::{Kind, Part, Takeoff};

/// How many are judged.
fn numbers(usual: u64) -> Vec<u64> {
    let said = |name: &str| std::env::var(name).ok().and_then(|it| it.parse::<u64>().ok());
    match said("SCANTLING_BUILDING") {
        Some(one) => vec![one],
        None => (0..said("SCANTLING_BUILDINGS").unwrap_or(usual)).collect(),
    }
}

struct Raised {
    house: House,
    plan: Plan,
}

fn raised(house: &House, how: How, catalog: &Catalog) -> Plan {
    let text = house.text(how);
    if std::env::var("SCANTLING_BUILDING").is_ok() {
        println!("{text}");
    }
    let document = Document::read("random", &text, catalog)
        .unwrap_or_else(|stop| panic!("building {}: {stop}\n{text}", house.number));
    plan(document.job(), catalog)
}

impl Raised {
    fn of(number: u64, catalog: &Catalog) -> Self {
        let house = House::drawn(number);
        let plan = raised(&house, How::AS_IT_IS, catalog);
        Self { house, plan }
    }

    fn building(&self) -> &Building {
        match &self.plan.building {
            Ok(building) => building,
            Err(stop) => panic!("building {}: {stop}", self.house.number),
        }
    }

    fn takeoff(&self) -> &Takeoff {
        match &self.plan.takeoff {
            Ok(takeoff) => takeoff,
            Err(stop) => panic!("building {}: {stop}", self.house.number),
        }
    }

    /// A thou on the model at full size.
    fn thou(&self) -> f64 {
        self.house.ratio / 1000.0
    }
}

/// What is wrong, by building; the first of each kind is enough to look at.
#[derive(Default)]
struct Wrong(Vec<(u64, String)>);

impl Wrong {
    fn tell(&mut self, number: u64, what: impl Into<String>) {
        self.0.push((number, what.into()));
    }

    fn judge(self, what: &str, count: usize) {
        let mut seen: Vec<u64> = self.0.iter().map(|it| it.0).collect();
        seen.dedup();
        // Each kind of trouble once, with how often it comes.
        let mut kinds: BTreeMap<String, (usize, u64, &str)> = BTreeMap::new();
        for (number, what) in &self.0 {
            let kind: String = what.chars().filter(|c| !c.is_ascii_digit()).collect();
            kinds.entry(kind).or_insert((0, *number, what)).0 += 1;
        }
        for (count, number, what) in kinds.values() {
            println!("  {count} such as building {number}: {what}");
        }
        let lines: Vec<String> = self
            .0
            .iter()
            .take(10)
            .map(|(number, what)| format!("building {number}: {what}"))
            .collect();
        println!("{what}: {count} buildings, {} of them wrong", seen.len());
        assert!(lines.is_empty(), "{what}: {} wrong\n{}", self.0.len(), lines.join("\n"));
    }
}

fn each(usual: u64, what: &str, judge: impl Fn(&Raised, &Catalog, &mut Wrong)) {
    let catalog = Catalog::built_in().expect("the shipped data");
    let mut wrong = Wrong::default();
    let numbers = numbers(usual);
    for number in &numbers {
        judge(&Raised::of(*number, &catalog), &catalog, &mut wrong);
    }
    wrong.judge(what, numbers.len());
}

#[test]
fn nothing_is_negative_endless_or_larger_than_what_it_lies_on() {
    each(300, "sizes", |it, _, wrong| {
        let number = it.house.number;
        let slack = it.thou();
        for part in &it.takeoff().parts {
            let sizes = [part.length.in_inches(), part.width.in_inches()];
            if sizes.iter().any(|size| !size.is_finite() || *size < 0.0) || part.count == 0 {
                wrong.tell(number, format!("{} x{} is {sizes:?}", part.label, part.count));
            }
            if sizes[0] <= 0.0 {
                wrong.tell(number, format!("{} has no length", part.label));
            }
            let Some(wall) = it.building().walls.iter().find(|wall| wall.name == part.face) else {
                continue;
            };
            if !covers(part.kind) && part.kind != Kind::Core {
                continue;
            }
            let (low, high) = part.outline().bounds();
            let (wide, tall) = ((high.x - low.x).in_inches(), (high.y - low.y).in_inches());
            // A layer at an annex's end runs on to the bare core.
            let beyond = wall
                .layers
                .iter()
                .fold(0.0_f64, |most, layer| most.max(layer.length().length.in_inches()));
            let most = wall.width.in_inches().max(beyond) + slack;
            let rise = wall.height().in_inches()
                - wall.foot.iter().map(|it| it.1.in_inches()).fold(f64::INFINITY, f64::min);
            // A lean-to's end rises on to that core too.
            let rise = rise + (beyond - wall.width.in_inches()).max(0.0) * 1.5 + slack;
            if wide > most || tall > rise {
                wrong.tell(
                    number,
                    format!(
                        "{} is {wide:.2} x {tall:.2} on a wall of {most:.2} x {rise:.2}",
                        part.label
                    ),
                );
            }
        }
    });
}

/// Parts that fill a layer of cladding.
fn covers(kind: Kind) -> bool {
    matches!(
        kind,
        Kind::Board | Kind::Scribed | Kind::Clapboard | Kind::Iron | Kind::Brick | Kind::Shingle
    )
}

/// Whether pieces of a kind lap, so that the part that shows is counted.
fn laps(kind: Kind) -> bool {
    matches!(kind, Kind::Clapboard | Kind::Iron | Kind::Shingle)
}

#[test]
fn parts_holes_and_bare_patches_make_up_each_layer() {
    each(300, "layers", |it, _, wrong| {
        for wall in &it.building().walls {
            for layer in &wall.layers {
                let slabs = solids::slabs(wall, layer);
                let own: f64 = slabs
                    .iter()
                    .map(|([a, b], [low, high])| {
                        (b - a) * (high[0] + high[1] - low[0] - low[1]) / 2.0
                    })
                    .sum();
                let holes: f64 = layer
                    .holes
                    .iter()
                    .map(|hole| (hole.hole.width * hole.hole.height).in_square_inches())
                    .sum();
                let clad = layer.role != Role::Core && !layer.claddings.is_empty();
                let of = |part: &&Part| {
                    part.face == wall.name
                        && if clad {
                            covers(part.kind)
                        } else {
                            part.kind == Kind::Core && part.section == layer.id.layer
                        }
                };
                let area = |part: &Part| {
                    // A board that a hole parts is cut from one stick, as one.
                    let apart = part.shape.is_none() && part.note.contains("round an opening");
                    let one = if laps(part.kind) || apart {
                        part.covers.in_square_inches()
                    } else {
                        part.outline().square_inches()
                    };
                    one * f64::from(part.count)
                };
                let parts: f64 = it.takeoff().parts.iter().filter(of).map(area).sum();
                // A thou along every edge of the layer.
                let around: f64 = slabs
                    .iter()
                    .map(|([a, b], [l, h])| 2.0 * (b - a) + h[0] - l[0] + h[1] - l[1])
                    .sum();
                let off = parts + holes - own;
                // Gaps of laid boards are part of the layer.
                if off.abs() > around * it.thou() {
                    wrong.tell(
                        it.house.number,
                        format!("{}: parts {parts:.1} and holes {holes:.1} are not {own:.1}, by {off:.2} sq in ({})", layer.id, it.house.cladding),
                    );
                }
            }
        }
    });
}

#[test]
fn corners_close_and_diagonals_agree() {
    each(300, "boxes", |it, _, wrong| {
        let number = it.house.number;
        let building = it.building();
        for body in &building.bodies {
            let walls: Vec<_> = building.walls_of(&body.name).collect();
            for corner in building.corners.iter().filter(|it| it.id.body == body.name) {
                let find = |side| walls.iter().find(|wall| wall.id.side == side);
                let (Some(along), Some(end)) = (find(corner.id.along), find(corner.id.end)) else {
                    continue;
                };
                // What each wall leaves free at the corner, layer by layer.
                for (wall, neighbour) in [(along, end), (end, along)] {
                    let at_left = wall.id.side.at_left() == neighbour.id.side;
                    let thick = |cladding: bool| -> f64 {
                        neighbour
                            .layers
                            .iter()
                            .filter(|it| (it.role == Role::Cladding) == cladding)
                            .map(|it| it.full)
                            .sum()
                    };
                    for layer in &wall.layers {
                        let free = if at_left {
                            layer.left.length.in_inches()
                        } else {
                            (wall.width - layer.right.length).in_inches()
                        };
                        let clad = layer.role == Role::Cladding;
                        let through =
                            if clad { corner.cladding } else { corner.core } == wall.id.side;
                        let wanted = match corner.joint {
                            Corners::Post => {
                                corner.post.as_ref().map_or(0.0, |it| it.length.in_inches())
                                    * it.house.ratio
                            }
                            _ if clad && through => 0.0,
                            _ if clad => thick(true),
                            Corners::Mitre => thick(true),
                            Corners::Butt if through => thick(true),
                            Corners::Butt => thick(true) + thick(false),
                        };
                        if (free - wanted).abs() > it.thou() {
                            wrong.tell(
                                number,
                                format!(
                                    "{} leaves {free:.3} at {}, not {wanted:.3}",
                                    layer.id, corner.id
                                ),
                            );
                        }
                    }
                }
            }
            let Some(square) = it.takeoff().boxes.iter().find(|it| it.name == body.name) else {
                continue;
            };
            let clad = |side: &str| -> f64 {
                let wall = walls.iter().find(|wall| wall.id.side.word() == side);
                let layers = wall.into_iter().flat_map(|wall| &wall.layers);
                layers.filter(|it| it.role == Role::Cladding).map(|it| it.full).sum()
            };
            let [length, depth] = body.plan();
            // An annex's box ends at the bare core of the wall behind it.
            let bare: f64 = building
                .walls
                .iter()
                .flat_map(|wall| {
                    let behind = wall.behind.iter().find(|it| it.body == body.name && it.bare);
                    behind.map(|_| {
                        wall.layers
                            .iter()
                            .filter(|it| it.role == Role::Cladding)
                            .map(|it| it.full)
                            .sum::<f64>()
                    })
                })
                .sum();
            let long = length - clad("left") - clad("right");
            let short = depth - clad("front") - clad("back") + bare;
            let wanted = long.hypot(short) / it.house.ratio;
            let off = (square.diagonal.in_inches() - wanted).abs();
            if off > 0.001 {
                wrong.tell(
                    number,
                    format!(
                        "diagonal of {} is {}, not {wanted}",
                        body.name,
                        square.diagonal.in_inches()
                    ),
                );
            }
        }
    });
}

#[test]
fn no_two_solids_share_space_unless_they_are_joined() {
    each(150, "solids", |it, _, wrong| {
        let building = it.building();
        let meetings = building.meetings();
        for (a, b, depth) in solids::overlaps(building, it.thou()) {
            let shared =
                meetings.iter().find(|it| (it.a == a && it.b == b) || (it.a == b && it.b == a));
            let on_model = depth / it.house.ratio * 1000.0;
            match shared {
                None => wrong
                    .tell(it.house.number, format!("{a} and {b} overlap by {on_model:.1} thou")),
                Some(meeting) if depth > meeting.most + it.thou() => wrong.tell(
                    it.house.number,
                    format!(
                        "{a} and {b} overlap by {on_model:.1} thou, more than {:.1}",
                        meeting.most / it.house.ratio * 1000.0
                    ),
                ),
                Some(_) => {}
            }
        }
    });
}

/// Parts by face and kind: sizes on the model, every piece by itself.
fn listed(
    plan: &Plan,
    name: impl Fn(&str) -> String,
    leave: impl Fn(Kind) -> bool,
) -> BTreeMap<String, Vec<[f64; 2]>> {
    let mut listed: BTreeMap<String, Vec<[f64; 2]>> = BTreeMap::new();
    let takeoff = plan.takeoff.as_ref().expect("parts");
    for part in takeoff.parts.iter().filter(|part| !leave(part.kind)) {
        let of = format!("{}/{}", name(&part.face), part.kind.word());
        let sizes = [part.model_length.in_inches(), part.model_width.in_inches()];
        let into = listed.entry(of).or_default();
        into.extend(std::iter::repeat_n(sizes, part.count as usize));
    }
    for sizes in listed.values_mut() {
        sizes.sort_by(|a, b| a[0].total_cmp(&b[0]).then(a[1].total_cmp(&b[1])));
    }
    listed
}

type Listed = BTreeMap<String, Vec<[f64; 2]>>;

fn same(number: u64, wrong: &mut Wrong, a: &Listed, b: &Listed, times: f64, how: &str) {
    let groups: std::collections::BTreeSet<&String> = a.keys().chain(b.keys()).collect();
    for group in groups {
        let (left, right) = (a.get(group), b.get(group));
        let (Some(left), Some(right)) = (left, right) else {
            wrong.tell(
                number,
                format!("{how}: {group} only {}", if left.is_some() { "before" } else { "after" }),
            );
            continue;
        };
        // As sets: each has one like it on the other side.
        let slack = 0.0005 * times.max(1.0);
        let mut rest: Vec<[f64; 2]> = right.clone();
        let lost = left.iter().filter(|it| {
            let like = rest
                .iter()
                .position(|other| (0..2).all(|n| (it[n] * times - other[n]).abs() < slack));
            like.map(|at| rest.swap_remove(at)).is_none()
        });
        let lost: Vec<&[f64; 2]> = lost.collect();
        if left.len() != right.len() || !lost.is_empty() {
            wrong.tell(
                number,
                format!("{how}: {group}: {} pieces and {}, {} not found again, such as {:?}; left over {:?}", left.len(), right.len(), lost.len(), lost.first(), rest.first()),
            );
        }
    }
}

#[test]
fn the_order_of_tables_means_nothing() {
    each(100, "order", |it, catalog, wrong| {
        let other = raised(&it.house, How { swapped: true, ..How::AS_IT_IS }, catalog);
        let names = |name: &str| name.to_owned();
        let none = |_| false;
        let (a, b) = (listed(&it.plan, names, none), listed(&other, names, none));
        same(it.house.number, wrong, &a, &b, 1.0, "swapped");
    });
}

/// Left and right exchanged in the name of a face.
fn mirrored(face: &str) -> String {
    let word = |it: &str| match it.split_once('-') {
        Some((head, rest)) => format!("{}-{rest}", other_hand(head)),
        None => other_hand(it).to_owned(),
    };
    face.split('/').map(word).collect::<Vec<_>>().join("/")
}

/// Boards and engraved lines are laid from the left corner, and splices, their
/// doublers and the uprights beside them follow; what is laid so is not the same
/// in the mirror.
fn laid_from_a_side(kind: Kind) -> bool {
    matches!(
        kind,
        Kind::Board | Kind::Batten | Kind::Scribed | Kind::Iron | Kind::Doubler | Kind::Bracing
    )
}

#[test]
fn the_mirror_has_the_same_parts() {
    each(100, "mirror", |it, catalog, wrong| {
        let other = raised(&it.house, How { mirrored: true, ..How::AS_IT_IS }, catalog);
        let a = listed(&it.plan, mirrored, laid_from_a_side);
        let b = listed(&other, |name| name.to_owned(), laid_from_a_side);
        same(it.house.number, wrong, &a, &b, 1.0, "mirrored");
    });
}

/// Fits of castings and floors, the greatest gap between uprights, the widths of strips that are left
/// out and the cutting of stock are lengths of the bench: they do not grow with
/// the model.
fn of_the_bench(kind: Kind) -> bool {
    matches!(
        kind,
        Kind::Bracing
            | Kind::Doubler
            | Kind::Floor
            | Kind::BoxSide
            | Kind::BoxEnd
            | Kind::Ledger
            | Kind::CornerBlock
    )
}

#[test]
fn another_scale_has_the_same_parts_in_proportion() {
    each(100, "scale", |it, catalog, wrong| {
        let times = 1.25;
        let mut house = it.house.clone();
        house.casting = false;
        let one = raised(&house, How::AS_IT_IS, catalog);
        let other = raised(&house, How { times, ..How::AS_IT_IS }, catalog);
        let names = |name: &str| name.to_owned();
        let (mut a, mut b) =
            (listed(&one, names, of_the_bench), listed(&other, names, of_the_bench));
        // The shortest battens left out are of one length at every scale.
        for (sizes, times) in
            a.values_mut().map(|it| (it, times)).chain(b.values_mut().map(|it| (it, 1.0)))
        {
            sizes.retain(|[long, _]| long * times >= 0.0625 * 1.25);
        }
        a.retain(|_, sizes| !sizes.is_empty());
        b.retain(|_, sizes| !sizes.is_empty());
        same(it.house.number, wrong, &a, &b, times, "scaled");
    });
}

/// Ends of chains that say nothing.
fn bare(why: &Why) -> bool {
    matches!(why, Why::Default(said) if said.contains("laid out") || *said == "as it lies")
}

fn chains(parts: &[Part], mut tell: impl FnMut(String)) -> (usize, usize) {
    let (mut all, mut whole) = (0, 0);
    for part in parts {
        let sizes = [(&part.why[0], part.length), (&part.why[1], part.width)];
        for (why, size) in sizes {
            all += 1;
            let again = why.again();
            let mut sound = (again - size.in_inches()).abs() < 1e-6;
            if !sound {
                tell(format!(
                    "{}: {} comes to {again}, not {}",
                    part.label,
                    why.what,
                    size.in_inches()
                ));
            }
            why.ends(&mut |end| {
                if bare(&end.why) {
                    sound = false;
                    tell(format!("{} ends in `{}`", part.label, end.what));
                }
            });
            whole += usize::from(sound);
        }
    }
    (all, whole)
}

#[test]
fn chains_of_reasons_end_in_reasons_and_come_to_the_size() {
    each(150, "chains", |it, _, wrong| {
        chains(&it.takeoff().parts, |what| wrong.tell(it.house.number, what));
    });
}

#[test]
fn chains_of_the_built_in_jobs_and_worked_buildings_hold() {
    let catalog = Catalog::built_in().expect("the shipped data");
    let mut jobs: Vec<(String, String)> = scantling::job::demo::DEMOS
        .iter()
        .map(|demo| (demo.name.to_owned(), demo.text.to_owned()))
        .collect();
    let folder = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/scenarios/worked");
    for name in ["worked-1", "worked-2"] {
        let text = std::fs::read_to_string(folder.join(format!("{name}.toml"))).expect("a job");
        jobs.push((name.to_owned(), text));
    }
    let mut wrong = Vec::new();
    for (name, text) in jobs {
        let document = Document::read(&name, &text, &catalog).expect("it reads");
        // Worked buildings are built as described, whatever their place.
        let mut job = document.job().clone();
        if name.starts_with("worked") {
            job.space = None;
        }
        let plan = plan(&job, &catalog);
        let takeoff = plan.takeoff.expect("parts");
        let (all, whole) = chains(&takeoff.parts, |what| wrong.push(format!("{name}: {what}")));
        println!("{name}: {whole} of {all} sizes of {} parts", takeoff.parts.len());
    }
    assert!(wrong.is_empty(), "{} ends\n{}", wrong.len(), wrong.join("\n"));
}
