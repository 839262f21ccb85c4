//! The tower: mass of a tapered lattice shaft under its receiver, and of the block it stands on.

use std::f64::consts::SQRT_2;

use crate::error::require_positive;
use crate::glass::GRAVITY_M_S2;
use crate::{STEEL_DENSITY_KG_M3, STEEL_MODULUS_PA, StructureError, Wind};

/// A square lattice tower with a straight taper and the receiver on top.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TowerInputs {
    /// Height of the shaft.
    pub height_m: f64,
    /// Mass on top.
    pub head_mass_kg: f64,
    /// Area on top that the wind meets.
    pub head_area_m2: f64,
    /// The wind; its survival speed sizes the shaft, its operating speed gives the head's shift.
    pub wind: Wind,
    /// Yield of the chords.
    pub steel_yield_pa: f64,
    /// Partial factor on wind.
    pub wind_factor: f64,
}

/// A tower that has been sized.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TowerParts {
    /// Steel of the shaft with bracing, ladders and platforms.
    pub steel_kg: f64,
    /// Concrete of the block.
    pub foundation_m3: f64,
    /// Moment at the foot in the storm, without partial factor.
    pub base_moment_n_m: f64,
    /// How far the mean operating wind shifts the head.
    pub head_shift_m: f64,
}

/// Height up to which a steel lattice is the usual tower; taller ones are mostly slip-formed concrete
/// (common practice, from memory: the change lies at some 100 to 120 m).
pub const TALLEST_USUAL_LATTICE_M: f64 = 120.0;

/// Width of the shaft at its foot and at its head over its height; common practice, no source.
const FOOT_WIDTH_SHARE: f64 = 1.0 / 8.0;
const HEAD_WIDTH_SHARE: f64 = 1.0 / 24.0;
/// Share of its outline that a square lattice fills; common practice, no source.
const LATTICE_SOLIDITY: f64 = 0.25;
/// Drag of a square lattice on its outline, at a coefficient of 2.6 on its members; common practice,
/// no source.
const LATTICE_DRAG: f64 = LATTICE_SOLIDITY * 2.6;
/// Drag coefficient of the box on top; common practice, no source.
const HEAD_DRAG: f64 = 1.4;
/// What buckling between nodes leaves of a chord's strength; common practice, no source.
const CHORD_BUCKLING: f64 = 0.7;
/// Smallest chord, an angle 60 × 6 mm; common practice, no source.
const LEAST_CHORD_M2: f64 = 6.9e-4;
/// Bracing, nodes, ladder and platforms over the chords; common practice, no source.
const SURPLUS: f64 = 2.0;
/// Slices the shaft is added up in.
const SLICES: usize = 24;

/// Weight of concrete, N/m³, and depth of the block over its side; common practice, no source.
const CONCRETE_N_M3: f64 = 24e3;
const BLOCK_DEPTH_SHARE: f64 = 0.25;

/// Mass on top of a tower: a receiver with its water, supports and platform at half as much again as
/// itself, and its housing, by area; common practice, no source.
#[must_use]
pub const fn head_mass_kg(receiver_kg: f64, housing_area_m2: f64) -> f64 {
    1.5 * receiver_kg + 80.0 * housing_area_m2
}

/// Width of a solid column that throws as much shadow as the lattice shaft of a tower so high: the
/// share that the lattice fills of its mean width.
#[must_use]
pub const fn shadow_width_m(height_m: f64) -> f64 {
    LATTICE_SOLIDITY * 0.5 * (FOOT_WIDTH_SHARE + HEAD_WIDTH_SHARE) * height_m
}

/// Forces on the shaft above a section, growing from the head down.
#[derive(Clone, Copy)]
struct Above {
    shear_n: f64,
    moment_n_m: f64,
    weight_n: f64,
    steel_kg: f64,
    /// Shift of the head in the storm's gusts, the integral of M·(depth below the head)/(EI).
    shift_m: f64,
}

/// Sizes a tower: chords for the storm from the head down, a block that its weight keeps from
/// overturning.
///
/// Every chord holds M/(√2·b) + weight/4, the wind across the diagonal. Mass grows faster than
/// height.
///
/// # Errors
/// [`StructureError`] when an input is not a finite number above zero.
pub fn size_tower(inputs: &TowerInputs) -> Result<TowerParts, StructureError> {
    require_positive(&[
        ("tower height_m", inputs.height_m),
        ("head_mass_kg", inputs.head_mass_kg),
        ("head_area_m2", inputs.head_area_m2),
        ("steel_yield_pa", inputs.steel_yield_pa),
        ("wind_factor", inputs.wind_factor),
    ])?;
    inputs.wind.check()?;
    let foot = (0..SLICES).fold(inputs.above_shaft(), |above, slice| {
        inputs.add_slice(above, slice)
    });
    let mean_over_gust = inputs
        .wind
        .mean_pressure_pa(inputs.wind.operate_m_s, inputs.height_m)
        / inputs
            .wind
            .gust_pressure_pa(inputs.wind.survive_m_s, inputs.height_m);
    Ok(TowerParts {
        steel_kg: foot.steel_kg,
        foundation_m3: block_volume_m3(inputs.wind_factor * foot.moment_n_m, foot.weight_n),
        base_moment_n_m: foot.moment_n_m,
        head_shift_m: foot.shift_m * mean_over_gust,
    })
}

impl TowerInputs {
    fn gust_pa(&self, height_m: f64) -> f64 {
        self.wind.gust_pressure_pa(self.wind.survive_m_s, height_m)
    }

    fn above_shaft(&self) -> Above {
        Above {
            shear_n: HEAD_DRAG * self.gust_pa(self.height_m) * self.head_area_m2,
            moment_n_m: 0.0,
            weight_n: self.head_mass_kg * GRAVITY_M_S2,
            steel_kg: 0.0,
            shift_m: 0.0,
        }
    }

    fn width_m(&self, depth_m: f64) -> f64 {
        HEAD_WIDTH_SHARE * self.height_m + (FOOT_WIDTH_SHARE - HEAD_WIDTH_SHARE) * depth_m
    }

    /// Adds one slice below what is already above it, with its chords sized for its lower end.
    fn add_slice(&self, above: Above, slice: usize) -> Above {
        let slice_m = self.height_m / SLICES as f64;
        let middle_m = (slice as f64 + 0.5) * slice_m;
        let width_m = self.width_m(middle_m);
        let drag_n = LATTICE_DRAG * self.gust_pa(self.height_m - middle_m) * width_m * slice_m;
        let shear_n = above.shear_n + drag_n;
        let moment_n_m = above.moment_n_m + (above.shear_n + 0.5 * drag_n) * slice_m;
        let chord_n = self.wind_factor * moment_n_m / (SQRT_2 * width_m) + above.weight_n / 4.0;
        let chord_m2 = (chord_n / (CHORD_BUCKLING * self.steel_yield_pa)).max(LEAST_CHORD_M2);
        let slice_kg = SURPLUS * 4.0 * chord_m2 * slice_m * STEEL_DENSITY_KG_M3;
        let stiffness_n_m2 = STEEL_MODULUS_PA * chord_m2 * width_m * width_m;
        Above {
            shear_n,
            moment_n_m,
            weight_n: above.weight_n + slice_kg * GRAVITY_M_S2,
            steel_kg: above.steel_kg + slice_kg,
            shift_m: above.shift_m + moment_n_m * middle_m * slice_m / stiffness_n_m2,
        }
    }
}

/// Volume of a square block whose weight, with nine tenths of all weights counted, keeps a moment
/// from overturning it about its edge (EN 1990, equilibrium; from memory).
fn block_volume_m3(moment_n_m: f64, weight_n: f64) -> f64 {
    const HALVINGS: usize = 60;
    let volume_m3 = |side_m: f64| BLOCK_DEPTH_SHARE * side_m * side_m * side_m;
    let stands = |side_m: f64| {
        0.9 * (CONCRETE_N_M3 * volume_m3(side_m) + weight_n) * side_m / 2.0 >= moment_n_m
    };
    let (mut low_m, mut high_m) = (0.0, 1.0);
    while !stands(high_m) {
        high_m *= 2.0;
    }
    for _ in 0..HALVINGS {
        let middle_m = 0.5 * (low_m + high_m);
        if stands(middle_m) {
            high_m = middle_m;
        } else {
            low_m = middle_m;
        }
    }
    volume_m3(high_m)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{Terrain, WindCode};

    fn tower(height_m: f64, survive_m_s: f64) -> TowerInputs {
        TowerInputs {
            height_m,
            head_mass_kg: 6000.0,
            head_area_m2: 20.0,
            wind: Wind {
                code: WindCode::En1991,
                terrain: Terrain::OPEN,
                air_density_kg_m3: 1.2,
                operate_m_s: 12.0,
                drive_to_stow_m_s: 22.0,
                survive_m_s,
                rms_operating_m_s: 5.0,
            },
            steel_yield_pa: 355e6,
            wind_factor: 1.5,
        }
    }

    fn steel_kg(height_m: f64, survive_m_s: f64) -> f64 {
        size_tower(&tower(height_m, survive_m_s)).unwrap().steel_kg
    }

    /// Cost of a tower is convex in height, about H^1.6–2.2 (from memory).
    #[test]
    fn mass_is_convex_in_height() {
        let kg: Vec<f64> = (2..10)
            .map(|step| steel_kg(f64::from(step) * 10.0, 32.0))
            .collect();
        for triple in kg.windows(3) {
            assert!(triple[2] - triple[1] > triple[1] - triple[0], "{kg:?}");
        }
        let exponent = libm::log(kg[6] / kg[2]) / libm::log(2.0);
        assert!((1.3..2.6).contains(&exponent), "{exponent}");
    }

    #[test]
    fn mass_and_block_rise_with_wind_and_head() {
        let calm = size_tower(&tower(40.0, 25.0)).unwrap();
        let storm = size_tower(&tower(40.0, 40.0)).unwrap();
        assert!(storm.steel_kg > calm.steel_kg && storm.foundation_m3 > calm.foundation_m3);
        let heavy = TowerInputs {
            head_mass_kg: 30_000.0,
            ..tower(40.0, 25.0)
        };
        assert!(size_tower(&heavy).unwrap().steel_kg > calm.steel_kg);
    }

    #[test]
    fn the_block_just_stands() {
        let volume_m3 = block_volume_m3(2e6, 1e5);
        let side_m = libm::cbrt(volume_m3 / BLOCK_DEPTH_SHARE);
        let standing_n_m = 0.9 * (CONCRETE_N_M3 * volume_m3 + 1e5) * side_m / 2.0;
        assert!((standing_n_m / 2e6 - 1.0).abs() < 1e-9);
    }

    #[test]
    fn a_tower_without_height_is_refused() {
        let error = size_tower(&tower(0.0, 30.0)).unwrap_err();
        assert_eq!(
            error.to_string(),
            "tower height_m is 0; give a finite number above zero"
        );
    }
}
