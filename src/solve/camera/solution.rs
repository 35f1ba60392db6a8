//! The adjusted network: values, first-order uncertainties, and the gate.

use nalgebra::DMatrix;

use super::adjust::{Problem, THOROUGH};
use super::envelope::Envelope;
use super::network::{Measure, Network};
use super::rows::{observed, visit};
use super::start::{Glance, begin, face_forward, glance};
use super::state::{FOCAL, Layout, SCALE, State};

/// Why a network cannot be adjusted.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Trouble {
    /// No focal length puts every mark on the near side of the horizon.
    BeyondHorizon,
    /// The marks and lengths do not fix all that is asked.
    Undetermined,
    /// The search did not settle.
    Unsettled,
}

/// An adjusted network.
#[derive(Clone, Debug)]
pub struct Solution {
    /// The network, its measures turned so that they come out positive.
    pub network: Network,
    /// The unknowns.
    pub state: State,
    /// What the vanishing points alone said.
    pub seen: Glance,
    /// Sum of squared residuals in standard uncertainties.
    pub chi_squared: f64,
    /// Rows less unknowns, what was expected beforehand counted in.
    pub freedom: i64,
    factor: Envelope,
}

/// A mark that fits badly.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Misfit {
    /// Index of the mark in the network.
    pub mark: usize,
    /// Its residual over the residual's own standard uncertainty.
    pub score: f64,
    /// Observed less computed, in pixels.
    pub off: [f64; 2],
}

/// Adjusts a network by least squares.
///
/// Several focal lengths are tried as starts, so that the answer does not hang
/// on the vanishing points of noisy marks.
///
/// # Errors
/// See [`Trouble`].
pub fn adjust(mut network: Network) -> Result<Solution, Trouble> {
    let seen = glance(&network);
    let expected = (network.camera.ln_focal.value - network.camera.width.ln()).exp();
    let mut starts: Vec<State> = Vec::new();
    let likely = |square: Option<f64>| square.filter(|&f| f > 0.05 && f < 400.0).map(f64::sqrt);
    let vanishing = [seen.side_focal_squared, seen.focal_squared].map(likely);
    let spread: &[f64] =
        if network.camera.ln_focal.sigma > 0.2 { &[1.0, 0.6, 2.0] } else { &[1.0] };
    let tried = spread.iter().map(|k| k * expected);
    let seen_focals = vanishing.into_iter().flatten().filter(|_| spread.len() > 1);
    for focal in seen_focals.chain(tried) {
        starts.extend(begin(&network, &seen, focal));
    }
    let first = starts.first().ok_or(Trouble::BeyondHorizon)?;
    face_forward(&mut network, first);
    // The best that fixes all that is asked: a search may end where nothing does.
    let mut trouble = Trouble::Unsettled;
    for state in settled(&network, &starts) {
        match finish(network.clone(), seen.clone(), state) {
            Ok(solution) => return Ok(solution),
            Err(other) => trouble = other,
        }
    }
    Err(trouble)
}

/// Where the searches from all starts settle, the best first.
fn settled(network: &Network, starts: &[State]) -> Vec<State> {
    let values = observed(network);
    let search = |start: &State| {
        let problem = Problem::new(network, start);
        problem.search(start, &values, THOROUGH, &mut problem.desk())
    };
    let mut ends: Vec<_> = starts.iter().map(search).filter(|end| end.converged).collect();
    ends.sort_by(|a, b| a.chi_squared.total_cmp(&b.chi_squared));
    ends.into_iter().map(|end| end.state).collect()
}

fn finish(network: Network, seen: Glance, state: State) -> Result<Solution, Trouble> {
    let problem = Problem::new(&network, &state);
    let factor = problem.factor_at(&state).ok_or(Trouble::Undetermined)?;
    let values = observed(&network);
    let (mut chi_squared, mut rows) = (0.0, 0);
    visit(&network, &problem.layout, &state, |i, row| {
        chi_squared += row.residual(values[i]).powi(2);
        rows += 1;
    });
    let freedom = rows - problem.layout.columns as i64;
    Ok(Solution { network, state, seen, chi_squared, freedom, factor })
}

impl Solution {
    /// L^-1 b in place, L the factor of the normal matrix.
    pub(super) fn forward(&self, b: &mut [f64]) {
        self.factor.forward(b);
    }

    /// The same answer with the uncertainties of another network of its shape.
    pub(super) fn as_if(&self, network: Network) -> Option<Self> {
        let factor = Problem::new(&network, &self.state).factor_at(&self.state)?;
        Some(Self { network, factor, ..self.clone() })
    }

    /// A distance on the wall, in wall units.
    #[must_use]
    pub fn measure(&self, of: Measure) -> f64 {
        of.of(&self.state.coordinates) * self.state.scale()
    }

    /// First-order covariance of distances, in wall units squared.
    #[must_use]
    pub fn covariance(&self, of: &[Measure]) -> DMatrix<f64> {
        let halves: Vec<Vec<f64>> = of.iter().map(|&m| self.half(m)).collect();
        DMatrix::from_fn(of.len(), of.len(), |i, j| {
            halves[i].iter().zip(&halves[j]).map(|(a, b)| a * b).sum()
        })
    }

    /// First-order standard uncertainty of a distance, in wall units.
    #[must_use]
    pub fn sigma(&self, of: Measure) -> f64 {
        self.half(of).iter().map(|a| a * a).sum::<f64>().sqrt()
    }

    /// L^-1 g for the gradient g of a distance.
    fn half(&self, of: Measure) -> Vec<f64> {
        let layout = Layout::of(&self.network);
        let s = self.state.scale();
        let mut gradient = vec![0.0; layout.columns];
        for (column, slope) in of.slopes(&self.state.coordinates) {
            gradient[column] += slope * s;
        }
        if let Some(column) = layout.shared[SCALE] {
            gradient[column] += self.measure(of);
        }
        self.factor.forward(&mut gradient);
        gradient
    }

    /// Standard uncertainty of ln of the focal length as the marks alone give
    /// it, what was expected beforehand taken out; infinite when they say
    /// nothing, zero when it was fixed.
    #[must_use]
    pub fn focal_spread(&self) -> f64 {
        let layout = Layout::of(&self.network);
        let Some(column) = layout.shared[FOCAL] else { return 0.0 };
        let mut unit = vec![0.0; layout.columns];
        unit[column] = 1.0;
        self.factor.forward(&mut unit);
        let variance: f64 = unit.iter().map(|a| a * a).sum();
        let prior = self.network.camera.ln_focal.sigma.powi(-2);
        let information = 1.0 / variance - prior;
        if information > 1e-6 * prior { information.powf(-0.5) } else { f64::INFINITY }
    }

    /// How far each mark is checked by the rest: the lesser redundancy number
    /// of its two rows, 0 (not at all) to 1.
    #[must_use]
    pub fn redundancy(&self) -> Vec<f64> {
        let mut least = vec![1.0_f64; self.network.sights.len()];
        self.each_mark_row(|mark, _, _, redundancy| {
            least[mark] = least[mark].min(redundancy);
        });
        least
    }

    /// The mark that fits worst, among those that can be checked at all.
    #[must_use]
    pub fn worst_mark(&self) -> Option<Misfit> {
        self.worst_where(|_| true)
    }

    /// Where the adjusted wall has a mark, in pixels.
    #[must_use]
    pub fn sees(&self, mark: usize) -> Option<[f64; 2]> {
        let place = self.state.place(&self.network.sights[mark]);
        Some(self.state.see(place)?.map(|u| u * self.network.camera.width))
    }

    /// The mark that fits worst among those that are asked for and can be
    /// checked.
    #[must_use]
    pub fn worst_where(&self, asked: impl Fn(usize) -> bool) -> Option<Misfit> {
        let mut worst: Option<(usize, f64)> = None;
        let mut off = vec![[0.0; 2]; self.network.sights.len()];
        self.each_mark_row(|mark, axis, residual, redundancy| {
            off[mark][axis] = -residual * self.network.sights[mark].sigma;
            if redundancy > 0.02 && asked(mark) {
                let score = residual.abs() / redundancy.sqrt();
                if worst.is_none_or(|(_, s)| score > s) {
                    worst = Some((mark, score));
                }
            }
        });
        worst.map(|(mark, score)| Misfit { mark, score, off: off[mark] })
    }

    /// Mark, axis, residual in standard uncertainties, redundancy number.
    fn each_mark_row(&self, mut each: impl FnMut(usize, usize, f64, f64)) {
        let layout = Layout::of(&self.network);
        let values = observed(&self.network);
        let rows = 2 * self.network.sights.len();
        let mut half = vec![0.0; layout.columns];
        visit(&self.network, &layout, &self.state, |i, row| {
            if i < rows {
                half.fill(0.0);
                for &(column, slope) in row.entries() {
                    half[column] += slope;
                }
                self.factor.forward(&mut half);
                let used: f64 = half.iter().map(|a| a * a).sum();
                each(i / 2, i % 2, row.residual(values[i]), (1.0 - used).max(0.0));
            }
        });
    }

    /// Relative depth of a mark: 1 at the optical axis, without bound toward
    /// the horizon.
    #[must_use]
    pub fn depth(&self, mark: usize) -> f64 {
        self.state.depth(self.state.place(&self.network.sights[mark]))
    }

    /// The value chi squared exceeds by chance once in a hundred times.
    ///
    /// Wilson and Hilferty: Abramowitz and Stegun 26.4.17 (within 0.6 percent
    /// for one degree of freedom, better for more).
    #[must_use]
    pub fn gate(&self) -> f64 {
        let n = self.freedom.max(1) as f64;
        let a = 2.0 / (9.0 * n);
        n * (1.0 - a + 2.326_347_874 * a.sqrt()).powi(3)
    }

    /// What the uncertainties are multiplied by: the Birge ratio when it is over
    /// one (R. T. Birge, Phys. Rev. 40, 1932), so that a wall that is less plane
    /// than assumed widens its own intervals.
    #[must_use]
    pub fn spread(&self) -> f64 {
        if self.freedom < 1 || self.network.checks() < 1 {
            return 1.0;
        }
        (self.chi_squared / self.freedom as f64).sqrt().max(1.0)
    }

    /// Whether the residuals are as large as the uncertainties say.
    #[must_use]
    pub fn passes(&self) -> bool {
        self.freedom < 1 || self.chi_squared <= self.gate()
    }
}
