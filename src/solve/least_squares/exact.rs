//! Takes exact equations out of a problem.

use super::{Equation, Terms, Trouble, tidy};

/// Every unknown as a constant and a sum of free unknowns.
#[derive(Clone, Debug)]
pub(super) struct Eliminated {
    /// How many unknowns stay free.
    pub(super) free: usize,
    /// The constant of each unknown.
    constants: Vec<f64>,
    /// The sum of free unknowns each unknown is, by free index.
    sums: Vec<Terms>,
}

impl Eliminated {
    /// A sum of unknowns as a constant and a sum of free unknowns.
    pub(super) fn reduce(&self, terms: &[(usize, f64)]) -> (f64, Terms) {
        let constant = terms.iter().map(|(at, factor)| factor * self.constants[*at]).sum();
        let mut sum: Terms = terms
            .iter()
            .flat_map(|(at, factor)| {
                self.sums[*at].iter().map(move |(free, f)| (*free, f * factor))
            })
            .collect();
        tidy(&mut sum);
        let largest = sum.iter().map(|(_, factor)| factor.abs()).fold(0.0, f64::max);
        // Dust of cancelling: a factor this small would pass for a bond.
        sum.retain(|(_, factor)| factor.abs() > 1e-13 * largest);
        (constant, sum)
    }
}

/// A reduced equation: `lead` is solved for, `made_of` tells from which rows.
struct Pivot {
    lead: usize,
    terms: Terms,
    value: f64,
    made_of: Terms,
}

/// Solves the equations for one unknown each.
pub(super) fn eliminate(unknowns: usize, equations: &[Equation]) -> Result<Eliminated, Trouble> {
    Ok(collect(unknowns, &pivots(equations)?))
}

/// An unknown that the equations alone fix, and which of them do, in order.
pub(super) fn fixed(equations: &[Equation]) -> Result<Option<(usize, Vec<usize>)>, Trouble> {
    let pivots = pivots(equations)?;
    let lone = pivots.iter().find(|pivot| {
        pivot.terms.iter().all(|(at, factor)| *at == pivot.lead || factor.abs() < 1e-12)
    });
    Ok(lone.map(|pivot| {
        let rows = pivot.made_of.iter().filter(|(_, factor)| factor.abs() > 1e-9);
        (pivot.lead, rows.map(|(row, _)| *row).collect())
    }))
}

fn pivots(equations: &[Equation]) -> Result<Vec<Pivot>, Trouble> {
    let mut pivots: Vec<Pivot> = Vec::new();
    for (row, equation) in equations.iter().enumerate() {
        if let Some(pivot) = reduce(row, equation, &pivots)? {
            for earlier in &mut pivots {
                subtract(earlier, &pivot);
            }
            pivots.push(pivot);
        }
    }
    Ok(pivots)
}

/// The equation with all solved unknowns put in; nothing when it then says
/// nothing new.
fn reduce(row: usize, equation: &Equation, pivots: &[Pivot]) -> Result<Option<Pivot>, Trouble> {
    let mut terms = equation.terms.clone();
    tidy(&mut terms);
    let size = terms.iter().map(|(_, factor)| factor.abs()).fold(0.0, f64::max);
    let mut new = Pivot { lead: 0, terms, value: equation.value, made_of: vec![(row, 1.0)] };
    for pivot in pivots {
        subtract(&mut new, pivot);
    }
    new.terms.retain(|(_, factor)| factor.abs() > 1e-12 * size);
    let largest = new.terms.iter().copied().max_by(|a, b| a.1.abs().total_cmp(&b.1.abs()));
    let Some((lead, factor)) = largest else {
        return contradiction(row, equation, &new, pivots);
    };
    new.lead = lead;
    new.value /= factor;
    for (_, each) in new.terms.iter_mut().chain(&mut new.made_of) {
        *each /= factor;
    }
    Ok(Some(new))
}

fn contradiction(
    row: usize,
    equation: &Equation,
    new: &Pivot,
    pivots: &[Pivot],
) -> Result<Option<Pivot>, Trouble> {
    let size = pivots.iter().map(|p| p.value.abs()).fold(equation.value.abs(), f64::max);
    if new.value.abs() <= 1e-9 * size.max(1e-300) {
        return Ok(None);
    }
    let others = new.made_of.iter().filter(|(at, f)| *at != row && f.abs() > 1e-9);
    let mut equations: Vec<usize> = others.map(|(at, _)| *at).collect();
    equations.push(row);
    Err(Trouble::Contradiction { equations, off: new.value.abs() })
}

/// Removes the lead of `pivot` from `from`.
fn subtract(from: &mut Pivot, pivot: &Pivot) {
    let Some(&(_, factor)) = from.terms.iter().find(|(at, _)| *at == pivot.lead) else { return };
    let minus = |terms: &[(usize, f64)]| -> Terms {
        terms.iter().map(|(at, f)| (*at, -factor * f)).collect()
    };
    from.terms.extend(minus(&pivot.terms));
    from.terms.retain(|(at, _)| *at != pivot.lead);
    tidy(&mut from.terms);
    from.made_of.extend(minus(&pivot.made_of));
    tidy(&mut from.made_of);
    from.value -= factor * pivot.value;
}

fn collect(unknowns: usize, pivots: &[Pivot]) -> Eliminated {
    let mut free_index: Vec<Option<usize>> = vec![None; unknowns];
    let mut solved = vec![false; unknowns];
    for pivot in pivots {
        solved[pivot.lead] = true;
    }
    let mut free = 0;
    for (index, _) in free_index.iter_mut().zip(&solved).filter(|(_, solved)| !**solved) {
        *index = Some(free);
        free += 1;
    }
    let mut constants = vec![0.0; unknowns];
    let mut sums: Vec<Terms> =
        free_index.iter().map(|index| index.iter().map(|free| (*free, 1.0)).collect()).collect();
    for pivot in pivots {
        constants[pivot.lead] = pivot.value;
        let rest = pivot.terms.iter().filter(|(at, _)| *at != pivot.lead);
        sums[pivot.lead] =
            rest.filter_map(|(at, factor)| Some((free_index[*at]?, -factor))).collect();
    }
    Eliminated { free, constants, sums }
}
