//! Keys that are pressed together within one frame.
//!
//! The engine's bridge to the panels tells them of every key with the modifiers held at the frame's end. Where the processor draws,
//! a frame is longer than a quick Ctrl+Z: then the key would go without its Ctrl.

use bevy::ecs::message::MessageReader;
use bevy::ecs::system::{Local, Query};
use bevy::input::keyboard::{KeyCode, KeyboardInput};
use bevy_egui::EguiInput;
use egui::{Event, Modifiers};

/// Gives each key of this frame the modifiers that were held when it went down or up.
pub(super) fn chords(
    mut messages: MessageReader<KeyboardInput>,
    mut held: Local<Modifiers>,
    mut inputs: Query<&mut EguiInput>,
) {
    let mut with = Vec::new();
    let mut has_changed = false;
    for message in messages.read() {
        if hold(&mut held, message.key_code, message.state.is_pressed()) {
            has_changed = true;
        } else {
            with.push(*held);
        }
    }
    // With the same modifiers throughout, the frame's end tells the truth.
    if has_changed {
        inputs.iter_mut().for_each(|mut input| correct(&mut input.events, &with));
    }
}

/// Notes a modifier that goes down or up; whether it was one.
const fn hold(held: &mut Modifiers, key: KeyCode, is_down: bool) -> bool {
    match key {
        KeyCode::ControlLeft | KeyCode::ControlRight => {
            held.ctrl = is_down;
            if !cfg!(target_os = "macos") {
                held.command = is_down;
            }
        }
        KeyCode::ShiftLeft | KeyCode::ShiftRight => held.shift = is_down,
        KeyCode::AltLeft | KeyCode::AltRight => held.alt = is_down,
        KeyCode::SuperLeft | KeyCode::SuperRight if cfg!(target_os = "macos") => {
            held.mac_cmd = is_down;
            held.command = is_down;
        }
        _ => return false,
    }
    true
}

/// Where the keys are not told one for one, nothing is known better, and nothing is changed.
fn correct(events: &mut Vec<Event>, with: &[Modifiers]) {
    if events.iter().filter(|event| matches!(event, Event::Key { .. })).count() != with.len() {
        return;
    }
    let mut each = with.iter();
    for event in &mut *events {
        if let Event::Key { modifiers, .. } = event
            && let Some(held) = each.next()
        {
            *modifiers = *held;
        }
    }
    // A letter in a chord is no writing.
    if with.iter().any(|held| held.command) {
        events.retain(|event| !matches!(event, Event::Text(_)));
    }
}

#[cfg(test)]
mod tests {
    use egui::Key;

    use super::*;

    fn key(pressed: bool) -> Event {
        let modifiers = Modifiers::NONE;
        Event::Key { key: Key::Z, physical_key: None, pressed, repeat: false, modifiers }
    }

    #[test]
    fn a_quick_chord_keeps_its_modifier_and_writes_nothing() {
        let mut held = Modifiers::NONE;
        assert!(hold(&mut held, KeyCode::ControlLeft, true) && !hold(&mut held, KeyCode::KeyZ, true));
        let mut events = vec![key(true), Event::Text("z".to_owned()), key(false)];
        correct(&mut events, &[held, held]);
        assert!(hold(&mut held, KeyCode::ControlLeft, false) && held == Modifiers::NONE);
        assert_eq!(events.len(), 2);
        for event in &events {
            assert!(matches!(event, Event::Key { modifiers, .. } if modifiers.command && modifiers.ctrl));
        }
        // Told otherwise than one for one, all stays.
        let mut events = vec![key(true), Event::Text("z".to_owned())];
        correct(&mut events, &[]);
        assert_eq!(events, [key(true), Event::Text("z".to_owned())]);
    }
}
