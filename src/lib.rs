//! Tierproof: plan, show and prepare a decorated celebration cake, true to size.
//!
//! Data flows one way: a design file becomes a [`design`], a design with its [`art`] becomes a [`cake`], and from the cake come
//! its [`wraps`], its [`sheets`], its [`kitchen`] figures, what the [`checks`] say, the [`proof`] and the [`packs`]. Every part imports only
//! from those above it:
//!
//! | part | what it knows |
//! | --- | --- |
//! | [`measure`] | lengths, angles, masses, and how people write them |
//! | [`findings`] | what a check says: code, severity, where, by how much, what would fix it |
//! | [`files`] | bounded reading, whole-or-nothing writing, paths that stay inside |
//! | [`art`] | pictures, drawings, outlines, lettering, colours |
//! | [`design`] | the document `cake.toml` |
//! | [`shapes`] | outlines of tiers and the solids made from them |
//! | [`cake`] | the resolved cake: everything with its place, in mm |
//! | [`wraps`] | printed lengths, repeats, strips, seams |
//! | [`sheets`] | everything printed, nested on printing sheets |
//! | [`kitchen`] | portions, pastes, masses, dowels, patterns, make list, placing, plan, price |
//! | [`checks`] | the rules of an experienced decorator |
//! | [`proof`] | facts, views, what is drawn over a picture |
//! | [`packs`] | files for the customer and the kitchen |
//! | [`edits`] | everything that a person does to a design, undone, saved and recovered |
//! | `panels` | the editor's panels, as plain functions (feature `panels`) |
//! | `scene` | the picture, rendered (feature `view`) |
//! | `window` | the editor's window: engine, panels and threads held together (feature `view`) |
//! | [`commands`] | one file a command |
//!
//! From the text of a design to the lengths of its printed strips:
//!
//! ```
//! use std::sync::Arc;
//! use tierproof::{art::Shelf, cake::resolve, design::read_design, wraps::plan};
//!
//! let text = r#"
//!     title = "Six inches, iced to seven"
//!     unit = "in"
//!     tier = [{ name = "base", size = 6, icing = "1/2", height = 5, course = [
//!         { name = "waves", kind = "wrap", height = "4 3/4", art = "waves.svg", fit = "cover", sheet = "letter" },
//!     ] }]
//! "#;
//! let design = Arc::new(read_design(text, "cake.toml")?);
//! let cake = resolve(&design, &Arc::new(Shelf::default()))?;
//! let (plans, _findings) = plan(&cake);
//! let lengths: Vec<f64> = plans[0].strips.iter().map(|strip| strip.width).collect();
//! assert_eq!(lengths.len(), 3); // three letter sheets, not the two that the pan asks for
//! assert_eq!(lengths.iter().sum::<f64>().round(), 560.0); // mm, as the cake stands iced
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```

pub mod art;
pub mod cake;
pub mod checks;
pub mod commands;
pub mod design;
pub mod edits;
pub mod files;
pub mod findings;
pub mod kitchen;
pub mod measure;
pub mod packs;
#[cfg(feature = "panels")]
pub mod panels;
pub mod proof;
#[cfg(feature = "view")]
pub mod scene;
pub mod shapes;
pub mod sheets;
#[cfg(feature = "view")]
pub mod window;
pub mod wraps;
