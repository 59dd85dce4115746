//! A thick sheet over a grid: ribbon, petals, anything rolled out and laid in curves.

use std::f64::consts::PI;

use glam::{DVec2, DVec3};

use super::shell::{Corner, Shell};
use crate::shapes::Mesh;

/// Steps of the rounded rim from the upper face to the lower.
const RIM: usize = 4;

/// A sheet of paste, `thickness` mm thick, whose middle surface goes through the grid's places (mm): rows of equally many
/// places. Its upper face is the one from which rows run left to right when the next row lies above. The rim is rounded and
/// stands out by half the thickness beyond the grid. Fewer than two rows or columns make an empty mesh.
///
/// Picture places on both faces: u along a row, v **down** from the last row to the first.
#[must_use]
pub fn sheet(grid: &[Vec<DVec3>], thickness: f64) -> Mesh {
    gathered_sheet(grid, &vec![thickness; grid.len()])
}

/// As [`sheet`], each row with a thickness of its own: where a ribbon is gathered, its folds make it thicker.
#[must_use]
pub fn gathered_sheet(grid: &[Vec<DVec3>], thickness: &[f64]) -> Mesh {
    let columns = grid.iter().map(Vec::len).min().unwrap_or_default();
    if grid.len() < 2 || columns < 2 {
        return Mesh::default();
    }
    let plan = Plan { grid, thickness, rows: grid.len(), columns };
    let mut shell = Shell::default();
    let upper = plan.face(&mut shell, 1.0);
    let lower = plan.face(&mut shell, -1.0);
    for row in 0..plan.rows - 1 {
        for column in 0..columns - 1 {
            let patch = [(row, column), (row, column + 1), (row + 1, column + 1), (row + 1, column)];
            shell.patch(patch.map(|at| plan.corner(&upper, at)));
            let [a, b, c, d] = patch.map(|at| plan.corner(&lower, at));
            shell.patch([d, c, b, a]);
        }
    }
    plan.rim(&mut shell, [&upper, &lower]);
    shell.mesh()
}

struct Plan<'a> {
    grid: &'a [Vec<DVec3>],
    thickness: &'a [f64],
    rows: usize,
    columns: usize,
}

impl Plan<'_> {
    fn at(&self, row: usize, column: usize) -> DVec3 {
        self.grid.get(row).and_then(|row| row.get(column)).copied().unwrap_or_default()
    }

    /// Half the thickness of a row.
    fn half(&self, row: usize) -> f64 {
        self.thickness.get(row).copied().unwrap_or_default() / 2.0
    }

    /// The upper face's normal, from the neighbours in the grid.
    fn normal(&self, (row, column): (usize, usize)) -> DVec3 {
        let right = self.at(row, (column + 1).min(self.columns - 1)) - self.at(row, column.saturating_sub(1));
        let up = self.at((row + 1).min(self.rows - 1), column) - self.at(row.saturating_sub(1), column);
        right.cross(up).normalize_or_zero()
    }

    /// Places of one face, row by row: above the middle surface for a `way` of 1, below it for -1.
    fn face(&self, shell: &mut Shell, way: f64) -> Vec<u32> {
        let cells = (0..self.rows).flat_map(|row| (0..self.columns).map(move |column| (row, column)));
        cells.map(|cell| shell.place(self.at(cell.0, cell.1) + self.normal(cell) * (way * self.half(cell.0)))).collect()
    }

    fn corner(&self, face: &[u32], (row, column): (usize, usize)) -> Corner {
        let place = face.get(row * self.columns + column).copied().unwrap_or_default();
        let (u, v) = (column as f64 / (self.columns - 1) as f64, row as f64 / (self.rows - 1) as f64);
        Corner { place, uv: DVec2::new(u, 1.0 - v) }
    }

    /// Cells of the border, counter-clockwise seen from above.
    fn border(&self) -> Vec<(usize, usize)> {
        let (rows, columns) = (self.rows - 1, self.columns - 1);
        let foot = (0..columns).map(|column| (0, column));
        let right = (0..rows).map(|row| (row, columns));
        let head = (1..=columns).rev().map(|column| (rows, column));
        let left = (1..=rows).rev().map(|row| (row, 0));
        foot.chain(right).chain(head).chain(left).collect()
    }

    /// The rounded rim between the upper and the lower face.
    fn rim(&self, shell: &mut Shell, [upper, lower]: [&[u32]; 2]) {
        let border = self.border();
        let count = border.len();
        let cell = |step: usize| border.get(step % count).copied().unwrap_or_default();
        let outward = |step: usize| {
            let at = |step: usize| self.at(cell(step).0, cell(step).1);
            let along = at(step + 1) - at(step + count - 1);
            along.cross(self.normal(cell(step))).normalize_or_zero()
        };
        let mut rows: Vec<Vec<Corner>> = vec![border.iter().map(|&at| self.corner(upper, at)).collect()];
        for level in 1..RIM {
            let (sin, cos) = (PI * level as f64 / RIM as f64).sin_cos();
            let row = (0..count).map(|step| {
                let middle = self.at(cell(step).0, cell(step).1);
                let place = shell
                    .place(middle + (outward(step) * sin + self.normal(cell(step)) * cos) * self.half(cell(step).0));
                Corner { place, ..self.corner(upper, cell(step)) }
            });
            rows.push(row.collect());
        }
        rows.push(border.iter().map(|&at| self.corner(lower, at)).collect());
        for pair in rows.windows(2) {
            let [above, below] = pair else { continue };
            let above = above.iter().zip(above.iter().cycle().skip(1));
            let below = below.iter().zip(below.iter().cycle().skip(1));
            for ((&d, &c), (&a, &b)) in above.zip(below) {
                shell.patch([a, b, c, d]);
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::shapes::build::laws;

    #[test]
    fn a_curved_ribbon_has_the_volume_of_its_strip() {
        let row = |step: u32| {
            let (sin, cos) = (f64::from(step) / 20.0 * 1.5 * PI).sin_cos();
            (0..5).map(|column| DVec3::new(20.0 * cos, f64::from(column) * 5.0, 20.0 * sin)).collect::<Vec<_>>()
        };
        let ribbon = sheet(&(0..=20).map(row).collect::<Vec<_>>(), 2.0);
        laws::keep(&ribbon).unwrap();
        let length = 30.0 * PI;
        // Two half-round rims along the sides and two at the ends.
        let volume = 20.0 * length * 2.0 + PI / 2.0 * (20.0 + length) * 2.0;
        assert!((ribbon.volume() / volume - 1.0).abs() < 0.02, "{} {volume}", ribbon.volume());
    }
}
