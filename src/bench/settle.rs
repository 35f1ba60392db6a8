//! Which of several words takes which of several quantities.

/// Further than this a word has nothing to do with a quantity.
pub(super) const FAR: f64 = 4.0;

/// The cheapest choice of a place for each want; a place goes once.
pub(super) fn settle(costs: &[Vec<f64>]) -> Vec<Option<usize>> {
    fn best(costs: &[Vec<f64>], taken: &mut Vec<Option<usize>>) -> (f64, Vec<Option<usize>>) {
        let Some((first, rest)) = costs.split_first() else {
            return (0.0, taken.clone());
        };
        taken.push(None);
        let (cost, choice) = best(rest, taken);
        let mut found = (cost + FAR, choice);
        taken.pop();
        for (at, cost) in first.iter().enumerate() {
            if *cost < FAR && !taken.contains(&Some(at)) {
                taken.push(Some(at));
                let (more, choice) = best(rest, taken);
                taken.pop();
                if cost + more < found.0 {
                    found = (cost + more, choice);
                }
            }
        }
        found
    }
    best(costs, &mut Vec::new()).1
}
