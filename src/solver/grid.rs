//! Meshes: how a slab is cut into cells.

/// Cell sizes of a slab [m], growing by `ratio` from one cell to the next.
///
/// - `thickness`: of the slab [m], above 0
/// - `n_cells`: at least 1
/// - `ratio`: size of a cell over the one before it [–], above 0; 1 for equal cells
///
/// Panics: if `n_cells` is 0.
pub fn graded_cells(thickness: f64, n_cells: usize, ratio: f64) -> Vec<f64> {
    assert!(n_cells > 0, "a slab has at least one cell");
    let sizes: Vec<f64> = (0..n_cells).map(|i| ratio.powi(i as i32)).collect();
    let sum: f64 = sizes.iter().sum();
    sizes.iter().map(|size| thickness * size / sum).collect()
}

/// Cell sizes of a slab [m], each half of the one before it but for the last, which equals it.
///
/// - `thickness`: of the slab [m], above 0
/// - `n_halvings`: how often the last part is halved; one cell more than that
pub fn halving_cells(thickness: f64, n_halvings: usize) -> Vec<f64> {
    let mut cells: Vec<f64> = (1..=n_halvings).map(|i| thickness * 0.5f64.powi(i as i32)).collect();
    cells.push(thickness * 0.5f64.powi(n_halvings as i32));
    cells
}

/// The mesh with every cell halved.
pub fn halved(cells: &[f64]) -> Vec<f64> {
    cells.iter().flat_map(|dx| [0.5 * dx, 0.5 * dx]).collect()
}

#[cfg(test)]
mod tests {
    use super::{graded_cells, halved, halving_cells};
    use approx::assert_relative_eq;

    #[test]
    fn cells_fill_the_slab_and_grow_by_the_ratio() {
        let cells = graded_cells(2e-3, 5, 1.5);
        assert_relative_eq!(cells.iter().sum::<f64>(), 2e-3, max_relative = 1e-14);
        assert_relative_eq!(cells[3] / cells[2], 1.5, max_relative = 1e-14);
        assert_relative_eq!(halved(&cells).iter().sum::<f64>(), 2e-3, max_relative = 1e-14);
        assert_eq!(halved(&cells).len(), 10);
    }

    #[test]
    fn halving_cells_fill_the_slab() {
        assert_eq!(halving_cells(2.0, 3), [1.0, 0.5, 0.25, 0.25]);
        assert_eq!(halving_cells(2.0, 0), [2.0]);
    }
}
