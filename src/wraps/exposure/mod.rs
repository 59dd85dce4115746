//! How visible each place of a course is, cast at the real solids of the cake.
//!
//! In: the resolved cake with its bodies, and the design's `[viewing]`. Out: for a course and a place along it, the share of
//! the onlookers' sight lines that reach a seam there, 0 to 1. In this order: `eyes` says from where people look, `seam_line`
//! where a seam lies and which way it faces, `solids` what stands round it and meets a `curtain` of sight lines, `comb` what of the seam is left in sight. `together`
//! looks at all seams of a course at once, `sweep` along one azimuth.
//!
//! ```text
//!   exposure = mean over azimuths (by the cosine from the front), eye levels (evenly) and the seam's height
//!              of: 1 where the seam faces the eye and nothing stands between, else 0
//!
//!        eye level          All sight lines from one seam towards one azimuth lie in one upright
//!      \  \  \              plane, the curtain: cut once through every solid near it, each cut edge
//!       \  \  \             shades the seam by its shadow along each eye level. So the height is
//!     |  \ [##]\            covered without casting rays one by one; azimuths are sampled in equal
//!     |   \[##] \           steps of weight, and the share that faces away is taken exactly.
//!   seam     ahead ->
//! ```
//!
//! Sight lines are parallel: people stand far away against the size of a cake. The weights sum to 1, so a seam in the open
//! has 1 as long as all of `spread` can face it: on a round cake up to `90° − spread` from the front. There, at an angle φ from
//! the front, `(sin s − sin max(−s, φ − 90°)) / (2 sin s)` with the spread s: 0.91 at 40°, 0.5 at 90°, 0 at the back.

mod comb;
mod curtain;
mod eyes;
mod onlookers;
mod seam_line;
mod slabs;
mod solids;
mod sweep;
mod together;
mod words;

pub use onlookers::{CourseSight, Onlookers};
pub use words::exposure_words;
