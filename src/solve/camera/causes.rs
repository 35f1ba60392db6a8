//! What a network that does not fit would best be rid of: one mark, one
//! length, a group of marks, or what was taken to be known of the camera.
//!
//! Each cause is tested by leaving it out: first to first order for all of
//! them (Baarda's tests of alternative hypotheses; P. J. G. Teunissen, *Testing
//! Theory*, 2000: the generalized likelihood ratio of q parameters), then the
//! likeliest by adjusting again. What the rest scatters more than it says
//! counts against every cause alike.

use nalgebra::{DMatrix, DVector};

use super::network::{Network, Prior, Tie};
use super::rows::{observed, visit};
use super::solution::{Solution, adjust};
use super::state::Layout;
use crate::solve::special::chi_square_tail;

/// Something that may be wrong.
#[derive(Clone, Debug, PartialEq)]
pub enum Cause {
    /// One mark, by index.
    Mark(usize),
    /// One length or ratio, by its index in [`Network::ties`].
    Tie(usize),
    /// Marks that lie together off the plane they are taken to lie in.
    Ahead(Vec<usize>),
    /// Marks that together are not what they are taken for.
    Group(Vec<usize>),
    /// Where the optical axis is taken to lie.
    Centre,
    /// That the picture is not stretched.
    Stretch,
    /// The focal length expected beforehand.
    Focal,
}

/// A cause, and what speaks for it.
#[derive(Clone, Debug)]
pub struct Charge {
    /// What may be wrong.
    pub cause: Cause,
    /// Parameters it sets free.
    pub freedom: usize,
    /// By how much chi squared falls without it.
    pub fall: f64,
    /// ln of the chance of a fall as large where nothing is wrong.
    pub ln_chance: f64,
    /// The network adjusted without it.
    pub without: Solution,
    /// How far off the plane the marks of [`Cause::Ahead`] lie, with its
    /// standard uncertainty.
    pub ahead: Option<(f64, f64)>,
}

/// How many of the likeliest causes are adjusted for.
const TRIED: usize = 8;
/// The share of its variance that an observation must leave to the others for
/// it to be tested.
const TESTABLE: f64 = 0.02;
/// The same where one length of a thousandth carries the whole test.
const HARDLY: f64 = 1e-7;
/// What a standard uncertainty is multiplied by where an observation is left
/// out but must keep its unknowns in place.
const LOOSE: f64 = 1e3;

/// How far pictures that are stretched are (ln): more than a tenth is no copy.
const STRETCHED: f64 = 0.04;
/// How far from its middle the axis of a picture lies that is cut, as a part of
/// the width.
const CUT: f64 = 0.25;

/// Residuals over their standard uncertainties, and `L^-1 a` of each row.
struct Rows {
    residual: Vec<f64>,
    half: Vec<Vec<f64>>,
}

impl Rows {
    fn of(solution: &Solution) -> Self {
        let network = &solution.network;
        let layout = Layout::of(network);
        let values = observed(network);
        let mut rows = Self { residual: Vec::new(), half: Vec::new() };
        visit(network, &layout, &solution.state, |i, row| {
            let mut half = vec![0.0; layout.columns];
            for &(column, slope) in row.entries() {
                half[column] += slope;
            }
            solution.forward(&mut half);
            rows.residual.push(row.residual(values[i]));
            rows.half.push(half);
        });
        rows
    }

    /// Leaving out some rows: the fall of chi squared, and how many of them the
    /// others can test.
    fn fall(&self, out: &[usize], testable: f64) -> (f64, usize) {
        let covariance = DMatrix::from_fn(out.len(), out.len(), |i, j| {
            let shared = dot(&self.half[out[i]], &self.half[out[j]]);
            if i == j { 1.0 - shared } else { -shared }
        });
        let residual = DVector::from_iterator(out.len(), out.iter().map(|&i| self.residual[i]));
        let eigen = covariance.symmetric_eigen();
        let (mut fall, mut freedom) = (0.0, 0);
        for (k, &value) in eigen.eigenvalues.iter().enumerate() {
            if value > testable {
                fall += eigen.eigenvectors.column(k).dot(&residual).powi(2) / value;
                freedom += 1;
            }
        }
        (fall, freedom)
    }

    /// Setting one parameter free, `slopes` (row, derivative over sigma): the
    /// fall of chi squared.
    fn fall_along(&self, slopes: &[(usize, f64)]) -> (f64, usize) {
        let columns = self.half.first().map_or(0, Vec::len);
        let mut through = vec![0.0; columns];
        let (mut own, mut along) = (0.0, 0.0);
        for &(row, slope) in slopes {
            own += slope * slope;
            along += slope * self.residual[row];
            for (sum, half) in through.iter_mut().zip(&self.half[row]) {
                *sum += slope * half;
            }
        }
        let left = own - dot(&through, &through);
        if left > HARDLY * own { (along * along / left, 1) } else { (0.0, 0) }
    }
}

fn dot(a: &[f64], b: &[f64]) -> f64 {
    a.iter().zip(b).map(|(a, b)| a * b).sum()
}

/// The ln of the chance that chi squared of so many degrees is as large. Far
/// out by its leading term (Abramowitz and Stegun 26.4.12), so that no two
/// unlikely causes look the same.
fn ln_chance(fall: f64, freedom: usize) -> f64 {
    let half = 0.5 * fall;
    match freedom {
        0 => 0.0,
        _ if fall < 200.0 => chi_square_tail(fall, freedom as f64).max(f64::MIN_POSITIVE).ln(),
        1 => -half - 0.5 * (std::f64::consts::PI * half).ln(),
        n => -half + (0.5 * n as f64 - 1.0) * half.ln(),
    }
}

/// The likeliest causes, the likeliest first. `groups` are marks that belong
/// together; `floor` gives the largest ln of a chance at which a cause is worth
/// adjusting for.
#[must_use]
pub fn charges(
    solution: &Solution,
    groups: &[Vec<usize>],
    floor: impl Fn(&Cause) -> f64,
) -> Vec<Charge> {
    let rows = Rows::of(solution);
    let mut tested: Vec<(f64, Cause)> = causes(solution, groups)
        .into_iter()
        .map(|cause| {
            let (fall, freedom) = first_order(solution, &rows, &cause);
            (ln_chance(fall, freedom), cause)
        })
        .filter(|(ln_chance, cause)| *ln_chance < floor(cause))
        .collect();
    tested.sort_by(|a, b| a.0.total_cmp(&b.0));
    // Lengths are always tried: they are few, and never hidden behind a mark.
    let mut others = 0;
    tested.retain(|(_, cause)| {
        others += usize::from(!matches!(cause, Cause::Tie(_)));
        matches!(cause, Cause::Tie(_)) || others <= TRIED
    });
    let tried = tested.into_iter().filter_map(|(_, cause)| try_without(solution, &rows, cause));
    let mut charges: Vec<Charge> = tried.collect();
    charges.sort_by(|a, b| a.ln_chance.total_cmp(&b.ln_chance));
    charges
}

/// All that may be wrong.
fn causes(solution: &Solution, groups: &[Vec<usize>]) -> Vec<Cause> {
    let network = &solution.network;
    let mut all: Vec<Cause> = (0..network.sights.len()).map(Cause::Mark).collect();
    let lengths = network.ties.iter().filter(|tie| matches!(tie, Tie::Length { .. })).count();
    let dear = |tie: &Tie| lengths > 1 || matches!(tie, Tie::Ratio { .. });
    let ties = network.ties.iter().enumerate().filter(|(_, tie)| dear(tie));
    all.extend(ties.map(|(at, _)| Cause::Tie(at)));
    if groups.len() > 1 {
        all.extend(groups.iter().cloned().map(Cause::Ahead));
        all.extend(groups.iter().cloned().map(Cause::Group));
    }
    all.extend([Cause::Centre, Cause::Stretch, Cause::Focal]);
    all
}

fn first_order(solution: &Solution, rows: &Rows, cause: &Cause) -> (f64, usize) {
    let network = &solution.network;
    let marks = 2 * network.sights.len();
    let of_marks =
        |list: &[usize]| list.iter().flat_map(|m| [2 * m, 2 * m + 1]).collect::<Vec<_>>();
    match cause {
        Cause::Mark(mark) => rows.fall(&of_marks(&[*mark]), TESTABLE),
        // A length said to be good to a thousandth leaves little of its variance
        // to the others, and is far off all the same when it is wrong.
        Cause::Tie(tie) => rows.fall(&[marks + tie], HARDLY),
        Cause::Group(list) => rows.fall(&of_marks(list), TESTABLE),
        Cause::Ahead(list) => rows.fall_along(&ahead_slopes(solution, list)),
        Cause::Centre => rows.fall(&camera_rows(network, &[1, 2]), TESTABLE),
        Cause::Focal => rows.fall(&camera_rows(network, &[0]), TESTABLE),
        Cause::Stretch if network.camera.aspect.sigma > 0.0 => {
            rows.fall(&camera_rows(network, &[4]), TESTABLE)
        }
        Cause::Stretch => rows.fall_along(&stretch_slopes(solution)),
    }
}

/// The rows of what is expected of the camera: focal length, axis to the right
/// and down, radial term, stretch.
fn camera_rows(network: &Network, wanted: &[usize]) -> Vec<usize> {
    let camera = &network.camera;
    let [right, down] = camera.principal;
    let free = [camera.ln_focal, right, down, camera.radial, camera.aspect];
    let setbacks = network.setbacks.iter().filter(|prior| prior.sigma > 0.0).count();
    let mut row = 2 * network.sights.len() + network.ties.len() + setbacks;
    let mut rows = Vec::new();
    for (k, prior) in free.iter().enumerate() {
        if prior.sigma > 0.0 {
            if wanted.contains(&k) {
                rows.push(row);
            }
            row += 1;
        }
    }
    rows
}

/// How the rows of some marks change as they come toward the viewer.
fn ahead_slopes(solution: &Solution, marks: &[usize]) -> Vec<(usize, f64)> {
    let (network, state) = (&solution.network, &solution.state);
    let w = network.camera.width;
    let mut slopes = Vec::new();
    for &mark in marks {
        let sight = &network.sights[mark];
        let place = state.place(sight);
        let step = 1e-5;
        let moved = [place[0], place[1], place[2] + step];
        if let (Some(here), Some(there)) = (state.see(place), state.see(moved)) {
            for k in 0..2 {
                slopes.push((2 * mark + k, (there[k] - here[k]) / step * w / sight.sigma));
            }
        }
    }
    slopes
}

/// How the rows of all marks change as the picture is stretched in height.
fn stretch_slopes(solution: &Solution) -> Vec<(usize, f64)> {
    let (network, state) = (&solution.network, &solution.state);
    let seen = |mark: usize| state.see(state.place(&network.sights[mark]));
    let all = (0..network.sights.len()).filter_map(|mark| {
        let off = seen(mark)?[1] - state.centre[1];
        Some((2 * mark + 1, off * network.camera.width / network.sights[mark].sigma))
    });
    all.collect()
}

/// Adjusts again without a cause.
fn try_without(solution: &Solution, rows: &Rows, cause: Cause) -> Option<Charge> {
    let network = without(solution, &cause);
    let new_plane = network.setbacks.len() > solution.network.setbacks.len();
    let adjusted = adjust(network).ok()?;
    let (_, freedom) = first_order(solution, rows, &cause);
    let fall = solution.chi_squared - adjusted.chi_squared;
    let left = (solution.freedom - freedom as i64).max(1) as f64;
    let scatter = (adjusted.chi_squared / left).max(1.0);
    let ahead = new_plane.then(|| adjusted.setback(adjusted.network.setbacks.len() - 1)).flatten();
    let ln_chance = ln_chance((fall / scatter).max(0.0), freedom.max(1));
    Some(Charge { cause, freedom, fall, ln_chance, without: adjusted, ahead })
}

fn without(solution: &Solution, cause: &Cause) -> Network {
    let mut network = solution.network.clone();
    let width = network.camera.width;
    match cause {
        Cause::Mark(mark) => network.sights[*mark].sigma *= LOOSE,
        Cause::Group(marks) => marks.iter().for_each(|&m| network.sights[m].sigma *= LOOSE),
        Cause::Tie(tie) => drop(network.ties.remove(*tie)),
        Cause::Ahead(marks) => {
            let far = solution.state.axis_distance().abs();
            let plane = network.setbacks.len();
            network.setbacks.push(Prior { value: 0.0, sigma: 0.5 * far });
            marks.iter().for_each(|&m| network.sights[m].plane = Some(plane));
        }
        Cause::Centre => {
            for prior in &mut network.camera.principal {
                prior.sigma = prior.sigma.max(CUT * width);
            }
        }
        Cause::Stretch => network.camera.aspect.sigma = STRETCHED,
        Cause::Focal => network.camera.ln_focal.sigma = network.camera.ln_focal.sigma.max(1.5),
    }
    network
}

impl Solution {
    /// How well each tie would be known without itself, from what was seen alone,
    /// what was only expected of the focal length left aside: the standard
    /// uncertainty relative to a length, or of a ratio; large where nothing else
    /// tells.
    #[must_use]
    pub fn foretold_ties(&self) -> Vec<f64> {
        let count = self.network.ties.len();
        let mut network = self.network.clone();
        network.camera.ln_focal.sigma *= 20.0;
        let Some(loose) = self.as_if(network) else { return vec![f64::INFINITY; count] };
        let rows = Rows::of(&loose);
        let first = 2 * self.network.sights.len();
        let foretold = |(tie, said): (usize, &Tie)| {
            let half = &rows.half[first + tie];
            let left = (1.0 - dot(half, half)).max(1e-12);
            let own = match said {
                Tie::Length { value, sigma, .. } => sigma / value,
                Tie::Ratio { sigma, .. } => *sigma,
            };
            own * ((1.0 - left) / left).max(0.0).sqrt()
        };
        self.network.ties.iter().enumerate().map(foretold).collect()
    }

    /// A plane's distance with its standard uncertainty; nothing for an exact one.
    #[must_use]
    pub fn setback(&self, plane: usize) -> Option<(f64, f64)> {
        let layout = Layout::of(&self.network);
        let column = *layout.setbacks.get(plane)?;
        let mut unit = vec![0.0; layout.columns];
        unit[column?] = 1.0;
        self.forward(&mut unit);
        Some((self.state.setbacks[plane], dot(&unit, &unit).sqrt()))
    }
}
