//! A building of 24 by 14 by 9 seen from its corner: front, side, ridge.

use nalgebra::Vector3;

use super::{shots, together};
use crate::job::Job;
use crate::job::photo::Photo;
use crate::photo::from_job::{each, marked};
use crate::photo::lengths::Effort;

/// A pinhole at a place, looking at another; metres, x along the front,
/// y up, z toward the viewer.
fn seen(eye: [f64; 3], target: [f64; 3], focal: f64, place: [f64; 3]) -> [f64; 2] {
    let v = |p: [f64; 3]| Vector3::from(p);
    let away = (v(target) - v(eye)).normalize();
    let right = away.cross(&v([0.0, 1.0, 0.0])).normalize();
    let down = away.cross(&right);
    let d = v(place) - v(eye);
    let depth = d.dot(&away);
    [799.5 + focal * d.dot(&right) / depth, 599.5 + focal * d.dot(&down) / depth]
}

const EYE: [f64; 3] = [38.0, 2.2, 26.0];
const TARGET: [f64; 3] = [19.0, 4.6, -2.0];

fn at_disturbed(place: [f64; 3], off: &mut dyn FnMut() -> f64) -> String {
    let [u, v] = seen(EYE, TARGET, 1500.0, place);
    format!("[{:.6}, {:.6}]", u + off(), v + off())
}

/// The job of that building: front with windows, side with windows, gable
/// ridge on the side, a chimney on the ridge, a porch edge.
fn photos(off: &mut dyn FnMut() -> f64) -> Vec<Photo> {
    let rect = |id: &str, corners: [[f64; 3]; 4], off: &mut dyn FnMut() -> f64| {
        let places: Vec<String> = corners.iter().map(|place| at_disturbed(*place, off)).collect();
        format!("[[rect]]\nid = \"{id}\"\ncorners = [{}]\n", places.join(", "))
    };
    let mut front =
        String::from("id = \"F\"\nfile = \"f.jpg\"\npixels = [1600, 1200]\norigin = \"camera\"\n");
    for (i, x) in [2.0, 8.0, 14.0, 20.0].into_iter().enumerate() {
        let [l, r] = [x, x + 1.2];
        let corners = [[l, 3.0, 0.0], [r, 3.0, 0.0], [r, 1.2, 0.0], [l, 1.2, 0.0]];
        front.push_str(&rect(&format!("w{i}"), corners, off));
    }
    let mark = |id: &str, place, more: &str, off: &mut dyn FnMut() -> f64| {
        format!("[[mark]]\nid = \"{id}\"\nat = {}\n{more}", at_disturbed(place, off))
    };
    front.push_str(&mark("foot", [24.0, 0.0, 0.0], "", off));
    let midway = "deep = \"S.near..S.far\"\n";
    front.push_str(&mark("chimney", [10.0, 8.5, -7.0], midway, off));
    front.push_str("[[known]]\nof = \"w0:width\"\nvalue = \"1.2 m\"\nsigma = \"2 mm\"\n");
    front.push_str("[[known]]\nof = \"w0:height\"\nvalue = \"1.8 m\"\nsigma = \"3 mm\"\n");
    front.push_str("[[ask]]\nof = \"foot..chimney:plumb\"\nreads = \"top\"\n");
    let mut side = String::from(
        "id = \"S\"\nfile = \"f.jpg\"\npixels = [1600, 1200]\norigin = \"camera\"\n\
         corner = { of = \"F\", at = \"near\" }\nlevel = [[\"near\", \"far\"]]\n",
    );
    for (i, z) in [-2.0, -6.5, -11.0].into_iter().enumerate() {
        let [l, r] = [z, z - 1.2];
        let corners = [[24.0, 3.0, l], [24.0, 3.0, r], [24.0, 1.2, r], [24.0, 1.2, l]];
        side.push_str(&rect(&format!("s{i}"), corners, off));
    }
    side.push_str(&mark("near", [24.0, 0.0, 0.0], "", off));
    side.push_str(&mark("far", [24.0, 0.0, -14.0], "", off));
    side.push_str(&mark("ridge", [24.0, 7.5, -7.0], "", off));
    side.push_str("[[ask]]\nof = \"near..far:level\"\nreads = \"depth\"\n");
    side.push_str("[[ask]]\nof = \"near..ridge:plumb\"\nreads = \"ridge\"\n");
    let named = ["top", "depth", "ridge"].map(|name| format!("[[dimension]]\nname = \"{name}\"\n"));
    let pictures =
        [front, side].map(|text| format!("[[photo]]\n{}", text.replace("\n[[", "\n[[photo.")));
    let text = format!(
        "[job]\nname = \"corner\"\nscale = \"1:48\"\n{}{}",
        named.concat(),
        pictures.concat()
    );
    text.parse::<Job>().unwrap_or_else(|error| panic!("{error}")).photos
}

/// Depth, ridge and chimney as found, with their standard uncertainties.
fn found(photos: &[Photo]) -> [(f64, f64); 3] {
    if let Err(stop) = shots(&[&photos[0], &photos[1]], Effort { draws: 0, seed: 1 }) {
        let marks = together(&[&photos[0], &photos[1]]).expect("walls").marks;
        panic!("{}\n{:?}", stop.told(), marks.iter().map(|m| m.at).collect::<Vec<_>>());
    }
    let seen = each(photos, Effort { draws: 0, seed: 1 });
    let of = |photo: &str, name: &str| {
        let seen = seen.iter().find(|seen| seen.photo == photo).unwrap();
        let shot = seen.shot.as_ref().unwrap_or_else(|stop| panic!("{}", stop.told()));
        let found = shot.measured.lengths.iter().find(|found| found.name == name);
        found.map(|found| (found.value, found.sigma)).unwrap()
    };
    [of("S", "near..far:level"), of("S", "near..ridge:plumb"), of("F", "foot..chimney:plumb")]
}

const TRUTH: [f64; 3] = [14.0, 7.5, 8.5];

#[test]
fn exact_marks_give_depth_ridge_and_chimney() {
    for ((value, _), truth) in found(&photos(&mut || 0.0)).into_iter().zip(TRUTH) {
        assert!((value / truth - 1.0).abs() < 2e-3, "{value} for {truth}");
    }
}

/// The side has no known length of its own: by itself it has no size.
#[test]
fn a_side_wall_takes_its_size_from_the_front() {
    let photos = photos(&mut || 0.0);
    let mut alone = photos[1].clone();
    alone.corner = None;
    assert!(marked(&alone).is_ok());
    assert!(each(&[alone], Effort { draws: 0, seed: 1 })[0].shot.is_err());
    let mut stray = photos.clone();
    stray[1].corner.as_mut().unwrap().of = "X".to_owned();
    let seen = each(&stray, Effort { draws: 0, seed: 1 });
    assert!(seen[1].shot.is_err() && seen[0].shot.is_ok());
}
