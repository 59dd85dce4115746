//! Every kind of piece at any size: numbers from nowhere do no harm.

use proptest::prelude::{ProptestConfig, Strategy, prop, proptest};

use super::{Endless, Makings, Posture, Stock, measure, parts, trial};
use crate::design::model::{Piece, Surface};
use crate::design::{Design, read_design};

/// How many lengths a kind may ask for.
pub(in crate::cake) const LENGTHS: usize = 5;

/// Every kind, its keys from five lengths.
pub(in crate::cake) const KINDS: [fn(&[f64; LENGTHS]) -> String; 14] = [
    |[a, b, c, d, _]| {
        format!(
            "kind = 'topper'\nart = 'flag.svg'\nheight = {a}\nthickness = {b}\nbacking = {{ border = {c}, thickness = {d}, finish = 'white' }}\n\
             picks = {{ count = 1, diameter = 2, into_piece = {b}, into_cake = {a} }}"
        )
    },
    |[a, b, c, ..]| format!("kind = 'plaque'\nsize = [{a}, {b}]\nthickness = {c}"),
    |[a, b, c, d, e]| {
        format!(
            "kind = 'plaque'\nsize = [{a}, {b}]\nthickness = {c}\n\
             cells = {{ rows = 2, columns = 3, gap = {d}, inset = {e}, finishes = ['white', 'gold'] }}"
        )
    },
    |[a, b, c, ..]| format!("kind = 'ball'\nsize = {a}\nsunk = {b}\npin = {}", *c > 20.0),
    |[a, b, c, ..]| format!("kind = 'rope'\nsize = {a}\nlength = {b}\nsag = {c}"),
    |[a, b, c, d, _]| format!("kind = 'rope'\nsize = {a}\nlength = {b}\nsag = {c}\nband = {d}"),
    |[a, b, ..]| format!("kind = 'rope'\nsize = {a}\nring = {b}"),
    |[a, b, ..]| format!("kind = 'rope'\nsize = {a}\nring = {b}\npearls = true"),
    |[a, b, c, d, e]| {
        format!(
            "kind = 'bow'\nribbon = {a}\nloops = 3\nloop = {b}\ntails = 2\ntail = {c}\nthickness = {d}\ncut = 'notch'\nmirror = {}",
            *e > 20.0
        )
    },
    |[a, b, c, d, e]| {
        format!(
            "kind = 'sign'\ntext = 'Lia'\nletters = {{ height = {} }}\nsize = [{a}, {b}]\nthickness = {d}\nborder = {e}\n\
             wave = {e}\nborder_finish = 'gold'",
            // Letters that fit their face.
            c.min(0.8 * b).min(0.3 * a).max(0.1)
        )
    },
    |[a, b, c, d, e]| format!("kind = 'sign'\ntext = ''\nsize = [{a}, {b}]\nthickness = {c}\nborder = {d}\ncurl = {e}"),
    |[a, b, c, d, e]| {
        format!(
            "kind = 'rod'\nparts = [{{ length = {a}, from = {b}, to = {c} }}, {{ length = {d}, from = {c}, to = {e}, finish = 'gold' }}]\n\
             stick = {{ diameter = 2, into_board = {b} }}"
        )
    },
    |[a, b, c, ..]| {
        format!("kind = 'solid'\nform = '{}'\nsize = [{a}, {b}]", if *c > 20.0 { "candle" } else { "figure" })
    },
    |[a, b, ..]| format!("kind = 'solid'\nform = 'flowers'\nsize = [{a}, {b}]"),
];

/// The piece of these keys on a top or on a side, with its design; `None` for what the reader refuses.
pub(in crate::cake) fn piece(keys: &str, surface: Surface) -> Option<(Design, Piece)> {
    let seat = match surface {
        Surface::Side => "surface = 'side' }\nat = { along = 0, up = 50 }",
        Surface::Top | Surface::Board => "surface = 'top' }\nat = { x = 0, z = 0 }",
    };
    let text = format!(
        "title = 't'\nunit = 'mm'\n[[tier]]\nname = 'a'\nsize = 200\nheight = 100\n[[piece]]\nname = 'p'\nseat = {{ on = 'a', {seat}\n{keys}\n"
    );
    let design = read_design(&text, "cake.toml").ok()?;
    let piece = design.pieces.first()?.clone();
    Some((design, piece))
}

/// Lengths that nobody asks for: next to nothing, next to the greatest, and all between.
fn wild_lengths() -> impl Strategy<Value = [f64; LENGTHS]> {
    prop::array::uniform5(prop::sample::select(vec![0.0, 1e-9, 0.001, 0.3, 1.0, 7.0, 40.0, 300.0, 1500.0, 2999.0]))
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(12))]

    #[test]
    fn numbers_from_nowhere_do_no_harm(lengths in wild_lengths()) {
        for (kind, surface) in KINDS.iter().flat_map(|kind| [(kind, Surface::Top), (kind, Surface::Side)]) {
            let keys = kind(&lengths);
            let Some((design, piece)) = piece(&keys, surface) else { continue };
            let shelf = trial::shelf();
            let (posture, makings) = (Posture::from(surface), Makings { shelf: &shelf, design: &design });
            let Ok(measured) = measure(&piece.form, (posture, &Endless(posture)), makings) else { continue };
            let Ok(parts) = parts(&piece.form, (posture, &measured), makings, &mut Stock::default()) else { continue };
            let places = parts.iter().flat_map(|part| part.mesh.positions.iter());
            assert!(places.clone().all(|at| at.is_finite()), "{keys}");
            assert!(parts.len() < 30_000 && places.count() < 60_000_000, "{keys}");
            assert!(measured.volumes.iter().all(|(_, volume)| volume.is_finite() && *volume >= 0.0), "{keys}");
        }
    }
}
