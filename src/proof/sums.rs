//! Sums over any rectangle of a grid at once (a summed-area table: Crow 1984).

/// What lies above and to the left of each place of a grid, added up.
#[derive(Debug)]
pub struct Sums {
    columns: usize,
    rows: usize,
    /// One row and one column more than the grid, so that the first are zero.
    sums: Vec<f64>,
}

impl Sums {
    /// Of values row by row; what doesn't fill a row is left out.
    pub fn new(columns: usize, values: impl ExactSizeIterator<Item = f64>) -> Self {
        let rows = values.len() / columns.max(1);
        let mut sums = vec![0.0; columns + 1];
        sums.reserve(rows * (columns + 1));
        let mut along = 0.0;
        for (number, value) in values.take(rows * columns).enumerate() {
            if number % columns == 0 {
                along = 0.0;
                sums.push(0.0);
            }
            along += value;
            sums.push(along + sums.get(sums.len() - columns - 1).copied().unwrap_or_default());
        }
        Self { columns, rows, sums }
    }

    /// Columns and rows of the grid.
    #[must_use]
    pub const fn size(&self) -> (usize, usize) {
        (self.columns, self.rows)
    }

    /// The sum from one place (column, row) to before another.
    #[must_use]
    pub fn between(&self, (left, top): (usize, usize), (right, bottom): (usize, usize)) -> f64 {
        let sum = |x: usize, y: usize| self.sums.get(y * (self.columns + 1) + x).copied().unwrap_or_default();
        sum(right, bottom) - sum(left, bottom) - sum(right, top) + sum(left, top)
    }
}

#[cfg(test)]
mod tests {
    use super::Sums;

    #[test]
    fn any_rectangle_is_summed() {
        let value = |x: usize, y: usize| (x * 7 + y * y) as f64;
        let sums = Sums::new(5, (0..5 * 4 + 3).map(|number| value(number % 5, number / 5)));
        assert_eq!(sums.size(), (5, 4));
        for (low, high) in [((0, 0), (5, 4)), ((1, 2), (4, 3)), ((2, 2), (2, 4)), ((4, 3), (5, 4))] {
            let by_hand: f64 = (low.1..high.1).flat_map(|y| (low.0..high.0).map(move |x| value(x, y))).sum();
            assert_eq!(sums.between(low, high), by_hand);
        }
        assert_eq!(Sums::new(0, [].into_iter()).between((0, 0), (0, 0)), 0.0);
    }
}
