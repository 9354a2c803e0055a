//! Area, middle and second moments of a level section.

/// A section's properties, from its outline. Second moments are about the axes through its own centroid.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct AreaProperties {
    /// Area, mm².
    pub area_mm2: f64,
    /// The centroid (u, v), mm.
    pub centroid_mm: [f64; 2],
    /// ∫ v² dA about the centroid: bending about the u direction, mm⁴.
    pub i_u_mm4: f64,
    /// ∫ u² dA about the centroid: bending about the v direction, mm⁴.
    pub i_v_mm4: f64,
    /// ∫ u v dA about the centroid, mm⁴.
    pub i_uv_mm4: f64,
}

impl AreaProperties {
    /// Of polygons that do not overlap, together; each counter-clockwise in (u, v). By Green's theorem, exact.
    pub fn of_polygons<'a>(polygons: impl IntoIterator<Item = &'a [[f64; 2]]>) -> AreaProperties {
        let (mut area, mut first, mut uu, mut vv, mut uv) = (0.0, [0.0, 0.0], 0.0, 0.0, 0.0);
        for polygon in polygons {
            for (i, p) in polygon.iter().enumerate() {
                let q = polygon[(i + 1) % polygon.len()];
                let cross = p[0] * q[1] - q[0] * p[1];
                area += cross / 2.0;
                first[0] += cross * (p[0] + q[0]) / 6.0;
                first[1] += cross * (p[1] + q[1]) / 6.0;
                uu += cross * (p[0] * p[0] + p[0] * q[0] + q[0] * q[0]) / 12.0;
                vv += cross * (p[1] * p[1] + p[1] * q[1] + q[1] * q[1]) / 12.0;
                uv += cross * (p[0] * q[1] + 2.0 * p[0] * p[1] + 2.0 * q[0] * q[1] + q[0] * p[1]) / 24.0;
            }
        }
        if area <= 0.0 {
            return AreaProperties::default();
        }
        let [u, v] = first.map(|moment| moment / area);
        AreaProperties {
            area_mm2: area,
            centroid_mm: [u, v],
            i_u_mm4: vv - area * v * v,
            i_v_mm4: uu - area * u * u,
            i_uv_mm4: uv - area * u * v,
        }
    }

    /// The greatest and the least second moment, mm⁴.
    pub fn principal_mm4(&self) -> [f64; 2] {
        let middle = f64::midpoint(self.i_u_mm4, self.i_v_mm4);
        let reach = ((self.i_u_mm4 - self.i_v_mm4) / 2.0).hypot(self.i_uv_mm4);
        [middle + reach, middle - reach]
    }

    /// How far the axis of the greatest second moment is turned from u toward v, degrees, above -90 to 90; 0 where all
    /// directions are alike.
    pub fn principal_deg(&self) -> f64 {
        let [most, least] = self.principal_mm4();
        if most - least <= 1e-12 * most.abs() {
            return 0.0;
        }
        let deg = (-2.0 * self.i_uv_mm4).atan2(self.i_u_mm4 - self.i_v_mm4).to_degrees() / 2.0;
        if deg <= -90.0 { deg + 180.0 } else { deg }
    }
}
