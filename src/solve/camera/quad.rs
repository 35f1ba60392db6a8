//! Whether four marks can be the corners of a rectangle seen from its face.

/// What is wrong with four corners.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Fault {
    /// Two corners (by place in the list) are the same.
    Duplicate(usize, usize),
    /// This corner lies on the line of its neighbours.
    Collinear(usize),
    /// The outline crosses itself.
    Crossed,
    /// The outline runs the wrong way round.
    Mirrored,
    /// This corner points inward.
    Dented(usize),
}

/// Checks corners given top-left, top-right, bottom-right, bottom-left, in
/// pixels (y down). `sigma` is the standard uncertainty of a mark.
///
/// # Errors
/// The first fault found.
pub fn check(corners: [[f64; 2]; 4], sigma: f64) -> Result<(), Fault> {
    let side = |i: usize, j: usize| [corners[j][0] - corners[i][0], corners[j][1] - corners[i][1]];
    for i in 0..4 {
        for j in i + 1..4 {
            let [dx, dy] = side(i, j);
            if dx.hypot(dy) <= sigma.max(0.5) {
                return Err(Fault::Duplicate(i, j));
            }
        }
    }
    let mut turns = [0.0; 4];
    for (corner, turn) in turns.iter_mut().enumerate() {
        let (before, after) = ((corner + 3) % 4, (corner + 1) % 4);
        let (a, b) = (side(before, corner), side(corner, after));
        let cross = a[0] * b[1] - a[1] * b[0];
        // Distance of the corner from the line of its neighbours.
        let [dx, dy] = side(before, after);
        let off = cross.abs() / dx.hypot(dy).max(f64::MIN_POSITIVE);
        if off <= sigma.max(0.5) {
            return Err(Fault::Collinear(corner));
        }
        *turn = cross;
    }
    let left: Vec<usize> = (0..4).filter(|&i| turns[i] < 0.0).collect();
    match left[..] {
        [] => Ok(()),
        [one] => Err(Fault::Dented(one)),
        [_, _] => Err(Fault::Crossed),
        [_, _, _] => Err(Fault::Dented((0..4).find(|&i| turns[i] > 0.0).unwrap_or(0))),
        _ => Err(Fault::Mirrored),
    }
}

/// By how many quarters an outline is turned in the picture: 0 where its first
/// corner is the top left one, 1 where the top left one comes second. Nothing
/// where it lies too askew to say.
#[must_use]
pub fn quarters(corners: [[f64; 2]; 4]) -> Option<usize> {
    // The first side runs to the right, the second down, and so on round.
    let [tl, tr, br, bl] = corners;
    let across = [0, 1].map(|k| tr[k] - tl[k] + br[k] - bl[k]);
    let down = [0, 1].map(|k| bl[k] - tl[k] + br[k] - tr[k]);
    // Turned clockwise by a quarter, the first side runs down.
    let right = across[0] + down[1];
    let under = across[1] - down[0];
    let size = across[0].hypot(across[1]) + down[0].hypot(down[1]);
    (right.abs().max(under.abs()) > 0.85 * size).then_some(())?;
    Some(match (right.abs() > under.abs(), right > 0.0, under > 0.0) {
        (true, true, _) => 0,
        (false, _, true) => 3,
        (true, false, _) => 2,
        (false, _, false) => 1,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    const GOOD: [[f64; 2]; 4] = [[0.0, 0.0], [100.0, 5.0], [98.0, 60.0], [1.0, 70.0]];

    fn reordered(order: [usize; 4]) -> [[f64; 2]; 4] {
        order.map(|i| GOOD[i])
    }

    #[test]
    fn a_turned_outline_is_told_by_its_first_corner() {
        for (quarter, order) in
            [(0, [0, 1, 2, 3]), (1, [3, 0, 1, 2]), (2, [2, 3, 0, 1]), (3, [1, 2, 3, 0])]
        {
            assert_eq!(quarters(reordered(order)), Some(quarter), "{order:?}");
        }
        let askew = [[50.0, 0.0], [100.0, 50.0], [50.0, 100.0], [0.0, 50.0]];
        assert_eq!(quarters(askew), None);
    }

    #[test]
    fn names_each_fault() {
        assert_eq!(check(GOOD, 1.0), Ok(()));
        assert_eq!(check(reordered([2, 3, 0, 1]), 1.0), Ok(()));
        assert_eq!(check(reordered([1, 0, 3, 2]), 1.0), Err(Fault::Mirrored));
        assert_eq!(check(reordered([0, 2, 1, 3]), 1.0), Err(Fault::Crossed));
        assert_eq!(check(reordered([0, 1, 1, 3]), 1.0), Err(Fault::Duplicate(1, 2)));
        let mut flat = GOOD;
        flat[1] = [49.5, 35.2];
        flat[1][1] = 30.0;
        assert!(matches!(check(flat, 1.0), Err(Fault::Collinear(_) | Fault::Dented(1))));
        flat[1] = [49.2, 29.8];
        assert_eq!(check(flat, 10.0), Err(Fault::Collinear(1)));
    }
}
