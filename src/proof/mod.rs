//! What the customer is shown: facts, views, shots, and what is drawn over them.
//!
//! In: the resolved cake with its plans and findings. Out: [`facts::Facts`] (by `gather`), cameras (`view`), and over a picture
//! taken with one the seams and sizes (`marks`, placed by `overlay`, hidden where `sight` says so).

pub mod carrying;
pub mod drawing;
pub mod facts;
pub mod gather;
pub mod marks;
pub mod overlay;
pub mod shot;
pub mod sight;
pub mod span;
pub mod view;
