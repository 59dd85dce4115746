//! What the customer is shown: facts, views, shots.

pub mod facts;
pub mod shot;
pub mod view;
