//! Claim: the body's surface is that of Du Bois and Du Bois.
//! Source: beside each number.
//! Tolerance: the rounding of the printed constant or value.

use stillair::physics::body::surface_du_bois;

#[test]
fn agrees_with_the_form_that_a_handbook_prints() {
    // ASHRAE Handbook, Fundamentals, chapter on thermal comfort: A = 0.202 m^0.425 l^0.725, m in kg,
    // l in m (from memory); 0.202 has three digits, so it holds to 0.25 %.
    for (mass, height) in [(50.0, 1.5), (70.0, 1.73), (78.0, 1.78), (110.0, 1.95)] {
        let handbook = 0.202 * f64::powf(mass, 0.425) * f64::powf(height, 0.725);
        let ours = surface_du_bois(mass, height);
        assert!((ours / handbook - 1.0).abs() <= 0.0005 / 0.202, "{mass} {height}: {ours}");
    }
}

#[test]
fn the_standard_man_has_one_point_eight_square_metres() {
    // ISO 8996, standard man of 70 kg and 1.75 m: body surface area 1.8 m² (from memory).
    let ours = surface_du_bois(70.0, 1.75);
    assert!((ours - 1.8).abs() <= 0.05, "{ours}");
}
