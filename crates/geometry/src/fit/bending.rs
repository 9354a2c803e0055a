//! Bending of a section that is not symmetric, such as the L that a notch leaves.

use super::AreaProperties;

/// How a section takes bending in either plane while it is free to bend sideways too, as an L does.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bending {
    /// For bending in the plane of u, and of v, mm⁴: moment over E and curvature in that plane.
    pub stiffness_mm4: [f64; 2],
    /// Moment in either plane over the greatest stress it makes at a corner, mm³.
    pub modulus_mm3: [f64; 2],
}

impl AreaProperties {
    /// Of the section with these properties and these corners, (u, v), mm. Unsymmetrical bending: a moment in one plane
    /// alone stresses the point (x, y) from the centroid by M (x·I_u - y·I_uv) / (I_u·I_v - I_uv²) where it bends in the
    /// plane of u; for a section symmetric about either axis that is the ordinary M x / I_v.
    pub fn bending(&self, corners: impl IntoIterator<Item = [f64; 2]>) -> Bending {
        let AreaProperties { centroid_mm, i_u_mm4, i_v_mm4, i_uv_mm4, .. } = *self;
        let whole = i_u_mm4 * i_v_mm4 - i_uv_mm4 * i_uv_mm4;
        let mut most = [0.0_f64; 2];
        for corner in corners {
            let [x, y] = [corner[0] - centroid_mm[0], corner[1] - centroid_mm[1]];
            most[0] = most[0].max((x * i_u_mm4 - y * i_uv_mm4).abs());
            most[1] = most[1].max((y * i_v_mm4 - x * i_uv_mm4).abs());
        }
        let share = |over: f64| if over > 0.0 { whole / over } else { 0.0 };
        Bending { stiffness_mm4: [share(i_u_mm4), share(i_v_mm4)], modulus_mm3: most.map(share) }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;

    /// An L of two bars, its corner at the origin, legs along u and v.
    fn l_section(long_u: f64, long_v: f64, thick: f64) -> (AreaProperties, Vec<[f64; 2]>) {
        let along = [[0.0, 0.0], [long_u, 0.0], [long_u, thick], [0.0, thick]];
        let up = [[0.0, thick], [thick, thick], [thick, long_v], [0.0, long_v]];
        let section = AreaProperties::of_polygons([along.as_slice(), up.as_slice()]);
        (section, along.into_iter().chain(up).collect())
    }

    /// The handbook's other way to the same stress: the moment split along the principal axes, each part over its own second
    /// moment, and the two stresses added (the flexure formula about principal axes).
    #[test]
    fn stress_in_an_l_is_that_of_the_principal_axes() {
        for (long_u, long_v, thick) in [(2.0, 2.0, 1.0), (85.0, 125.0, 10.0), (50.0, 50.0, 24.0)] {
            let (section, corners) = l_section(long_u, long_v, thick);
            let bending = section.bending(corners.iter().copied());
            let (most, least) = (section.principal_mm4()[0], section.principal_mm4()[1]);
            // The axis of the greatest second moment, from u toward v; ∫η² over distances from it is the greatest.
            let (sin, cos) = section.principal_deg().to_radians().sin_cos();
            let stress = |moment: [f64; 2], corner: [f64; 2]| {
                let [x, y] = [corner[0] - section.centroid_mm[0], corner[1] - section.centroid_mm[1]];
                // Along the axis of the greatest, and square to it.
                let (along, off) = (cos * x + sin * y, cos * y - sin * x);
                // Bending in the plane of u is moment[0], in that of v moment[1]; as vectors of curvature they turn alike.
                let (m_along, m_off) = (cos * moment[0] + sin * moment[1], cos * moment[1] - sin * moment[0]);
                m_along * along / least + m_off * off / most
            };
            for plane in 0..2 {
                let moment = if plane == 0 { [1.0, 0.0] } else { [0.0, 1.0] };
                let worst = corners.iter().map(|corner| stress(moment, *corner).abs()).fold(0.0, f64::max);
                assert_relative_eq!(1.0 / bending.modulus_mm3[plane], worst, max_relative = 1e-9);
            }
        }
    }

    /// A square has no product of inertia, and its bending is the ordinary one: b⁴/12 and b³/6.
    #[test]
    fn a_square_bends_as_ever() {
        let corners = [[0.0, 0.0], [50.0, 0.0], [50.0, 50.0], [0.0, 50.0]];
        let bending = AreaProperties::of_polygons([corners.as_slice()]).bending(corners);
        for plane in 0..2 {
            assert_relative_eq!(bending.stiffness_mm4[plane], 520_833.3, epsilon = 0.1);
            assert_relative_eq!(bending.modulus_mm3[plane], 20_833.3, epsilon = 0.1);
        }
    }
}
