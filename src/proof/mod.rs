//! What the customer is shown: facts, views, shots.

pub mod facts;
pub mod overlay;
pub mod shot;
pub mod view;
