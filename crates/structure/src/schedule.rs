//! Post by post: what each bears, and how it stands in the ground.

use crate::demand::Governing;
use crate::glass::GRAVITY_M_S2;
use crate::loads::greatest_case;
use crate::members::StringLoads;
use crate::parts::{SetPosts, set_posts};
use crate::posts::PostClass;
use crate::string::StringInputs;
use crate::{Chs, LoadCase, StructureError};

/// What one post bears at the ground, peak gusts included and without partial factors, and how it is
/// set.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PostDuty {
    /// Height of its mirror's centre above the ground.
    pub height_m: f64,
    /// Its section.
    pub section: Chs,
    /// What sets the section.
    pub governed_by: Governing,
    /// Its length in the ground.
    pub depth_m: f64,
    /// The wind case that overturns it most.
    pub case: LoadCase,
    /// Moment about the ground in that case.
    pub overturning_n_m: f64,
    /// Horizontal force in that case.
    pub shear_n: f64,
    /// Greatest upward pull of the wind in any case.
    pub uplift_n: f64,
    /// Weight of what stands on it.
    pub weight_n: f64,
}

/// The posts of a string from its low end upwards, one under each mirror, and one leg of its frames,
/// as deep as the drive's torque and, without a rail, the pull of the lines want it.
///
/// # Errors
/// [`StructureError`] as [`crate::size_string`] has it.
pub fn post_schedule(inputs: &StringInputs) -> Result<(Vec<PostDuty>, PostDuty), StructureError> {
    inputs.check()?;
    let SetPosts {
        posts,
        leg,
        leg_depth_m,
        carried_kg,
    } = set_posts(inputs);
    let duty = |class: &PostClass, height_m: f64| duty(inputs, class, height_m, carried_kg);
    let all = (0..inputs.mirrors).map(|mirror| {
        let class = posts.class_of(mirror);
        duty(class, inputs.height_m(mirror))
    });
    let leg = PostDuty {
        section: leg.section,
        governed_by: leg.demand.governed_by,
        depth_m: leg_depth_m,
        ..duty(&posts.tallest, inputs.top_height_m())
    };
    Ok((all.collect(), leg))
}

fn duty(inputs: &StringInputs, class: &PostClass, height_m: f64, carried_kg: f64) -> PostDuty {
    let loads = StringLoads::on_post(inputs, height_m);
    let (case, overturning_n_m) = greatest_case(|case| loads.peak(case).overturning_n_m(height_m));
    let (_, uplift_n) = greatest_case(|case| loads.peak(case).lift_n);
    PostDuty {
        height_m,
        section: class.stock.section,
        governed_by: class.stock.demand.governed_by,
        depth_m: class.depth_m,
        case,
        overturning_n_m,
        shear_n: loads.peak(case).drag_n,
        uplift_n,
        weight_n: carried_kg * GRAVITY_M_S2,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::parts::tests::string;

    /// The schedule bears what the posts were sized for, rises with height, and its embedded lengths
    /// are those of the string.
    #[test]
    fn the_schedule_agrees_with_the_sized_string() {
        let level = string();
        for slope_rad in [0.0, 0.2] {
            let inputs = StringInputs {
                rail_slope_rad: slope_rad,
                ..level
            };
            let parts = crate::size_string(&inputs).unwrap();
            let (posts, leg) = post_schedule(&inputs).unwrap();
            assert_eq!(posts.len(), inputs.mirrors);
            let legs = (parts.posts - inputs.mirrors) as f64;
            let embedded_m: f64 = posts.iter().map(|post| post.depth_m).sum();
            let all_m = embedded_m + legs * leg.depth_m;
            assert!(
                (all_m / parts.embedded_m - 1.0).abs() < 1e-12,
                "{slope_rad}"
            );
            for pair in posts.windows(2) {
                assert!(pair[1].overturning_n_m >= pair[0].overturning_n_m);
                assert!(pair[1].depth_m >= pair[0].depth_m);
            }
            for post in &posts {
                let resistance_n_m = post
                    .section
                    .bending_resistance_n_m(inputs.rules.steel_yield_pa);
                let asked_n_m = inputs.rules.wind_factor * post.overturning_n_m;
                assert!(asked_n_m <= resistance_n_m * (1.0 + 1e-12));
                assert!(post.weight_n > inputs.panel.kg() * GRAVITY_M_S2);
            }
        }
    }
}
