//! One frame of the window: what the threads brought, the cake, the panels round it, and what all of them wish.

use egui::{Context, Id, Key, LayerId, Modifiers, Rect, Ui, UiBuilder};

use super::pictures::Pictures;
use super::room::Room;
use super::view;
use crate::panels::{Desk, Entrance, Look, Making, Wish, editor_over, start_over};

/// Lays the window out, and does what is wished; whether something is to be seen that this frame does not show yet.
pub(super) fn frame(context: &Context, room: &mut Room, pictures: &mut Pictures<'_>) -> bool {
    room.listen();
    if pictures.live.is_soft() {
        room.tell_of_softness();
    }
    let wishes = match room.open {
        Some(_) => editor(context, room, pictures),
        None => start(context, room),
    };
    // A blinking cursor would keep the processor awake.
    if context.global_style().visuals.text_cursor.blink {
        context.all_styles_mut(|style| style.visuals.text_cursor.blink = false);
    }
    // However long it is held, what is pressed and let go in one place is clicked; where the processor draws, a frame may take that long.
    context.options_mut(|options| options.input_options.max_click_duration = f64::INFINITY);
    let before = room.seen();
    let dropped = dropped(context, room);
    for wish in wishes.into_iter().chain(dropped) {
        room.grant(wish);
    }
    if let Some(trouble) = pictures.album.trouble.take() {
        room.say(format!("The finished picture can’t be drawn: {trouble}"), "the moving one stays");
    }
    before != room.seen()
}

fn start(context: &Context, room: &mut Room) -> Vec<Wish> {
    let Room { said, settings, memo, recent, .. } = room;
    start_over(context, &Entrance { recent: recent.list(), said, settings: *settings }, memo)
}

/// The cake first, for messages lie over it; its place is that which the panels left it in the frame before.
fn editor(context: &Context, room: &mut Room, pictures: &mut Pictures<'_>) -> Vec<Wish> {
    let place = room.place;
    if place.is_positive() {
        let under = UiBuilder::new().layer_id(LayerId::background()).max_rect(place);
        cake(&mut Ui::new(context.clone(), Id::new("cake"), under), room, pictures);
    }
    let Room { open: Some(open), said, settings, memo, maker, readout, .. } = room else { return Vec::new() };
    let making = maker.as_ref().map(|maker| Making { pack: maker.order.pack, share: maker.share, words: &maker.words });
    let desk = Desk { file: &open.file, state: &open.state };
    let look = Look { bench: &open.bench, desk, making, said, readout, settings: *settings };
    let shown = editor_over(context, &look, memo);
    room.place = shown.cake;
    if shown.cake != place && shown.cake != Rect::NOTHING {
        context.request_repaint();
    }
    shown.wishes
}

fn cake(ui: &mut Ui, room: &mut Room, pictures: &mut Pictures<'_>) {
    let is_asking = room.memo.is_asking();
    let Some(open) = &mut room.open else { return };
    // While something is dragged, Escape puts it back; else it belongs to the panels.
    let escapes = !is_asking && open.bench.history().is_held() && !room.memo.is_dragging();
    if escapes && open.is_holding() && ui.input_mut(|input| input.consume_key(Modifiers::NONE, Key::Escape)) {
        open.give_up();
    }
    let happened = view::cake(ui, open, pictures);
    room.readout = happened.readout.unwrap_or_default();
    if let Some(words) = happened.said {
        room.say(words, "");
    }
}

/// What is dropped on the window: a design is opened, a picture goes where it was dropped.
fn dropped(context: &Context, room: &mut Room) -> Vec<Wish> {
    let paths: Vec<std::path::PathBuf> =
        context.input(|input| input.raw.dropped_files.iter().map(|file| file.path().to_owned()).collect());
    paths.into_iter().filter_map(|path| room.receive(&path)).collect()
}
