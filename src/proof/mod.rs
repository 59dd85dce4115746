//! What the customer is shown: facts, views, shots, and what is drawn over them.
//!
//! `work` goes the whole way from a design with its art to its plans, findings and facts; commands and the editor both go it.
//!
//! In: the resolved cake with its plans and findings. Out: [`facts::Facts`] (by `gather`), cameras (`view`), and over a picture
//! taken with one the seams and sizes (`marks`, placed by `overlay`, hidden where `sight` says so). Drawn flat: the cake to
//! scale (`drawing`) and its sides unrolled (`tape`, a `chart`: a page as plain values).

pub mod approval;
pub mod carrying;
pub mod chart;
pub mod difference;
pub mod drawing;
pub mod each;
pub mod facts;
pub mod gather;
pub mod ink;
pub mod marks;
pub mod overlay;
pub mod shot;
pub mod sight;
mod silhouette;
pub mod span;
pub mod sums;
pub mod tape;
pub mod turntable;
pub mod view;
pub mod work;
pub mod working;
