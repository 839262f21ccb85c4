//! What is cut from stock: panels from sheets of glass, pieces from bars.

/// A sheet of glass as it is bought.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Sheet {
    /// Its longer side.
    pub length_m: f64,
    /// Its shorter side.
    pub width_m: f64,
}

/// A side that divides the sheet must not lose a row to rounding.
const SLIP: f64 = 1e-9;

impl Sheet {
    /// The float plants' large sheet (EN 572-2, from memory).
    pub const LARGE: Self = Self {
        length_m: 6.0,
        width_m: 3.21,
    };

    /// Square panels of a side along its length and across it, cut in rows and columns; one each way
    /// of a panel that is larger than the sheet.
    #[must_use]
    pub fn rows(&self, side_m: f64) -> [usize; 2] {
        [self.length_m, self.width_m]
            .map(|length_m| ((length_m / side_m + SLIP).floor() as usize).max(1))
    }

    /// Whole square panels of a side.
    #[must_use]
    pub fn panels(&self, side_m: f64) -> usize {
        let [along, across] = self.rows(side_m);
        along * across
    }

    /// Share of its glass that is left in whole panels.
    #[must_use]
    pub fn share(&self, side_m: f64) -> f64 {
        let left_m2 = self.panels(side_m) as f64 * side_m * side_m;
        (left_m2 / (self.length_m * self.width_m)).min(1.0)
    }
}

/// Pieces of one length.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pieces {
    /// Length of each.
    pub length_m: f64,
    /// How many.
    pub count: usize,
}

/// Bars of one length that pieces are cut from.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Cut {
    /// Length of each bar.
    pub bar_m: f64,
    /// How many bars.
    pub bars: usize,
    /// Length of all pieces.
    pub pieces_m: f64,
    /// Joints in pieces that are longer than a bar.
    pub splices: usize,
}

impl Cut {
    /// Share of the bars that ends up in pieces.
    #[must_use]
    pub fn share(&self) -> f64 {
        if self.bars == 0 {
            return 0.0;
        }
        self.pieces_m / self.bought_m()
    }

    /// Length of all bars.
    #[must_use]
    pub fn bought_m(&self) -> f64 {
        self.bars as f64 * self.bar_m
    }
}

/// Cuts pieces from bars of one length: bar after bar is filled with the longest pieces that still
/// fit, each cut losing the width of the saw. Longer pieces are joined from whole bars and a rest.
/// Within 11/9 of the fewest bars (first fit, longest first: Johnson et al., SIAM J. Comput. 3(4),
/// 1974, from memory).
#[must_use]
pub fn cut(pieces: &[Pieces], bar_m: f64, saw_m: f64) -> Cut {
    let mut cut = Cut {
        bar_m,
        bars: 0,
        pieces_m: pieces
            .iter()
            .map(|piece| piece.length_m * piece.count as f64)
            .sum(),
        splices: 0,
    };
    let mut left: Vec<Pieces> = Vec::with_capacity(pieces.len());
    for piece in pieces {
        let whole = (piece.length_m / bar_m - SLIP).ceil().max(1.0) - 1.0;
        cut.bars += whole as usize * piece.count;
        cut.splices += whole as usize * piece.count;
        left.push(Pieces {
            length_m: piece.length_m - whole * bar_m,
            count: piece.count,
        });
    }
    left.sort_by(|one, other| other.length_m.total_cmp(&one.length_m));
    while left.iter().any(|piece| piece.count > 0) {
        cut.bars += take_pattern(&mut left, bar_m, saw_m);
    }
    cut
}

/// Fills one bar, and as many more in the same way as the pieces left allow; how many bars.
fn take_pattern(left: &mut [Pieces], bar_m: f64, saw_m: f64) -> usize {
    let mut room_m = bar_m + saw_m + SLIP;
    let mut pattern = vec![0; left.len()];
    for (taken, piece) in pattern.iter_mut().zip(left.iter()) {
        let fits = (room_m / (piece.length_m + saw_m)).floor() as usize;
        *taken = fits.min(piece.count);
        room_m -= *taken as f64 * (piece.length_m + saw_m);
    }
    let bars = left
        .iter()
        .zip(&pattern)
        .filter(|(_, taken)| **taken > 0)
        .map(|(piece, taken)| piece.count / taken)
        .min()
        .unwrap_or(0)
        .max(1);
    for (piece, taken) in left.iter_mut().zip(&pattern) {
        piece.count = piece.count.saturating_sub(taken * bars);
    }
    bars
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    /// 6.00 × 3.21 m by hand: 6 × 3 panels of 0.95 m are 16.245 of 19.26 m²; 10 × 5 of 0.6 m are 18;
    /// 3.21/1.07 is 3 and must not fall to 2.
    #[test]
    fn panels_leave_offcuts() {
        let share = |side_m| Sheet::LARGE.share(side_m);
        assert!((share(0.95) - 16.245 / 19.26).abs() < 1e-12);
        assert!((share(0.6) - 18.0 / 19.26).abs() < 1e-12);
        assert!((share(1.07) - 15.0 * 1.07 * 1.07 / 19.26).abs() < 1e-12);
        for step in 20..250 {
            assert!((0.3..=1.0).contains(&share(f64::from(step) / 100.0)));
        }
    }

    /// By hand: four posts of 1.9 m and a saw of 5 mm: three go into a 6 m bar (5.71 m), so two bars;
    /// two arms of 0.14 m go into the first rest of 0.29 m, one more needs no bar of its own.
    #[test]
    fn bars_are_cut_as_by_hand() {
        let pieces = |length_m, count| Pieces { length_m, count };
        let posts = cut(&[pieces(1.9, 4)], 6.0, 0.005);
        assert_eq!((posts.bars, posts.splices), (2, 0));
        let with_arms = cut(&[pieces(0.14, 3), pieces(1.9, 4)], 6.0, 0.005);
        assert_eq!(with_arms.bars, 2);
        assert!((with_arms.share() - 8.02 / 12.0).abs() < 1e-12);
        // Rails of 20 m: three whole bars each and rests of 2 m, three to a bar without a saw.
        let rails = cut(&[pieces(20.0, 6)], 6.0, 0.0);
        assert_eq!((rails.bars, rails.splices), (20, 18));
        assert_eq!(cut(&[pieces(6.0, 5)], 6.0, 0.003).bars, 5);
        assert_eq!(cut(&[], 6.0, 0.003).bars, 0);
    }

    proptest! {
        /// Never fewer bars than the pieces' length, never more than one a piece beside whole ones.
        #[test]
        fn bars_hold_their_pieces(
            pieces in proptest::collection::vec((0.05..14.0f64, 0..60usize), 0..8),
        ) {
            let pieces: Vec<Pieces> = pieces
                .into_iter()
                .map(|(length_m, count)| Pieces { length_m, count })
                .collect();
            let cut = cut(&pieces, 6.0, 0.003);
            let count: usize = pieces.iter().map(|piece| piece.count).sum();
            prop_assert!(cut.bought_m() >= cut.pieces_m - 1e-6);
            prop_assert!(cut.bars <= count + cut.splices);
        }
    }
}
