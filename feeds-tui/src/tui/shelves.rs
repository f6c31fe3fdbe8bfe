//! The view of the shop: what stands on its shelves, to be found, shown and changed.
//!
//! Every change is saved at once; undo and redo, the same as everywhere, save what they bring back.

use super::ask::{Prompt, Purpose};
use super::edit::keep;
use super::effect::Effect;
use super::message::Action;
use super::pick::has;
use super::question::{self, Asking};
use super::shop::Workshop as _;
use super::state::{Over, ScreenState, View};
use super::words;
use crate::pass::description::Description;
use crate::pass::field::{Field, Shelf};
use crate::store::job::Pass;
use crate::store::shop::{Item, Shop};
use std::rc::Rc;

/// The view of the shop.
#[derive(Clone, Debug)]
pub struct ShelfView {
    /// The shelf that is open.
    pub shelf: Shelf,
    /// The marked one of the things that are found.
    pub at: usize,
    /// The entry the cursor is on, when the marked thing is open.
    pub row: Option<usize>,
    /// What names are looked for.
    wanted: String,
    shop: Rc<Shop>,
}

impl ShelfView {
    /// The first shelf of a shop.
    pub fn of(shop: Shop) -> Self {
        Self {
            shelf: Shelf::Cutters,
            at: 0,
            row: None,
            wanted: String::new(),
            shop: Rc::new(shop),
        }
    }

    /// The shop as it is now.
    pub fn shop(&self) -> &Shop {
        &self.shop
    }

    /// The same, to be kept.
    pub(super) fn shared(&self) -> Rc<Shop> {
        Rc::clone(&self.shop)
    }

    /// Puts another shop in the place of this one; the marked thing stays if it is still there.
    pub(super) fn put(&mut self, shop: Rc<Shop>) {
        if shop.items.len() != self.shop.items.len() {
            self.row = None;
        }
        self.shop = shop;
        let last = self.found(&self.wanted).len().saturating_sub(1);
        self.at = self.at.min(last);
    }

    /// Another copy's shop takes the place of this one.
    pub(super) fn read_again(&mut self, shop: Shop) {
        self.shop = Rc::new(shop);
        self.row = None;
        self.at = 0;
    }

    /// The places of the things on the open shelf whose names have what is looked for.
    fn found(&self, wanted: &str) -> Vec<usize> {
        let items = self.shop().items.iter().enumerate();
        items
            .filter(|(_, i)| i.shelf == self.shelf && has(&i.name, wanted))
            .map(|(at, _)| at)
            .collect()
    }
}

/// What names are looked for, while it is typed too.
pub fn wanted(state: &ScreenState) -> &str {
    match &state.over {
        Some(Over::Ask(Prompt {
            purpose: Purpose::FindThing,
            line,
            ..
        })) => line.text(),
        _ => &state.shelf.wanted,
    }
}

/// The things that are found on the open shelf.
pub fn found(state: &ScreenState) -> Vec<&Item> {
    let view = &state.shelf;
    let found = view.found(wanted(state)).into_iter();
    found.map(|at| &view.shop().items[at]).collect()
}

/// The thing that is marked or open.
pub fn marked(state: &ScreenState) -> Option<&Item> {
    found(state).get(state.shelf.at).copied()
}

/// The entry the cursor is on in the open thing; `None` is its note.
pub fn field(state: &ScreenState) -> Option<&'static Field> {
    state.shelf.shelf.fields().nth(state.shelf.row?)
}

/// Does what a key of this view is for; `None` if it is a key of every view.
pub(super) fn act(state: &mut ScreenState, action: Action) -> Option<Effect> {
    let count = match state.shelf.row {
        None => found(state).len(),
        Some(_) => state.shelf.shelf.fields().count() + 1,
    };
    match action {
        Action::NextStation => other_shelf(state, 1),
        Action::PreviousStation => other_shelf(state, Shelf::ALL.len() - 1),
        Action::Down
        | Action::Up
        | Action::First
        | Action::Last
        | Action::PageDown
        | Action::PageUp => {
            let view = &mut state.shelf;
            let cursor = view.row.as_mut().unwrap_or(&mut view.at);
            *cursor = super::update::moved(*cursor, count, action);
        }
        Action::Walk if state.shelf.row.is_some() => state.shelf.row = None,
        Action::Walk => {
            state.view = View::Walk;
            question::ask_of_changes(state);
        }
        Action::Find => {
            state.shelf.row = None;
            let wanted = state.shelf.wanted.clone();
            state.ask(words::FIND_THING, Purpose::FindThing, &wanted);
        }
        Action::Add => {
            let title = format!("{} {}", words::NEW_THING, state.shelf.shelf.word());
            state.ask(title, Purpose::NewThing, "");
        }
        Action::Open | Action::Name | Action::Note | Action::Clear => {
            return Some(of_thing(state, action));
        }
        _ => return None,
    }
    Some(Effect::Draw)
}

/// What is done with the marked thing.
fn of_thing(state: &mut ScreenState, action: Action) -> Effect {
    let Some(item) = marked(state).cloned() else {
        state.say(words::NOTHING_MARKED);
        return Effect::Draw;
    };
    match (action, state.shelf.row) {
        (Action::Name, _) => state.ask(words::THING_NAME, Purpose::ThingName, &item.name),
        (Action::Note, _) => state.ask(words::NOTE_ASKED, Purpose::OfThing("note"), &item.note),
        (Action::Open, None) => state.shelf.row = Some(0),
        (Action::Open, Some(_)) => match field(state) {
            None => state.ask(words::NOTE_ASKED, Purpose::OfThing("note"), &item.note),
            Some(field) => {
                let title = format!("{}: {}", field.name, field.accepts());
                let text = item.texts.get(field.key).unwrap_or_default();
                state.ask(title, Purpose::OfThing(field.key), text);
            }
        },
        (_, None) => {
            let used = used_in(state, &item);
            let question = Asking::of_shelf(item.shelf, &item.name, &used);
            state.over = Some(Over::Question(question));
        }
        (_, Some(_)) => {
            let key = field(state).map_or("note", |f| f.key);
            return match set(state, item, key, "") {
                Ok(effect) => effect,
                Err(wrong) => {
                    state.say(wrong);
                    Effect::Draw
                }
            };
        }
    }
    Effect::Draw
}

/// The passes of the open job that name a thing.
fn used_in<'s>(state: &'s ScreenState, item: &Item) -> Vec<&'s str> {
    let job = &state.job;
    let names = |pass: &&Pass| {
        let named = job.description(pass);
        let named = named.get(item.shelf.word()).map(str::to_lowercase);
        named == Some(item.name.to_lowercase())
    };
    let passes = job.passes.iter().filter(names);
    passes.map(|pass| pass.name.as_str()).collect()
}

/// Takes the marked thing off its shelf.
pub(super) fn remove(state: &mut ScreenState) -> Effect {
    let place = place(state);
    changed(state, words::OFF_THE_SHELF, |shop| {
        if place < shop.items.len() {
            shop.items.remove(place);
        }
    })
}

/// Takes a text that was asked for in this view.
pub(super) fn taken(
    state: &mut ScreenState,
    purpose: &Purpose,
    text: &str,
) -> Result<Effect, String> {
    match purpose {
        Purpose::FindThing => {
            text.clone_into(&mut state.shelf.wanted);
            state.shelf.at = 0;
            Ok(Effect::Draw)
        }
        Purpose::NewThing => {
            let item = Item::new(state.shelf.shelf, text, Description::default());
            let mut shop = state.shelf.shop().clone();
            shop.add(item).map_err(|e| e.to_string())?;
            state.shelf.wanted.clear();
            let effect = changed(state, words::ON_THE_SHELF, |now| *now = shop);
            state.shelf.at = found(state).len() - 1;
            state.shelf.row = Some(0);
            Ok(effect)
        }
        purpose => {
            let Some(item) = marked(state).cloned() else {
                return Err(words::NOTHING_MARKED.to_owned());
            };
            match purpose {
                Purpose::OfThing(key) => set(state, item, key, text),
                _ => rename(state, item, text),
            }
        }
    }
}

fn set(state: &mut ScreenState, mut item: Item, key: &str, text: &str) -> Result<Effect, String> {
    item.set(key, text).map_err(|e| e.to_string())?;
    put(state, item)
}

fn rename(state: &mut ScreenState, mut item: Item, name: &str) -> Result<Effect, String> {
    name.clone_into(&mut item.name);
    state.shelf.wanted.clear();
    put(state, item)
}

/// Puts a thing in the place of the marked one.
fn put(state: &mut ScreenState, item: Item) -> Result<Effect, String> {
    let place = place(state);
    let needs = item.complete().err().map(|e| e.to_string());
    let mut shop = state.shelf.shop().clone();
    shop.change(place, item).map_err(|e| e.to_string())?;
    let effect = changed(state, words::SHOP_SAVED, |now| *now = shop);
    state.shelf.at = state
        .shelf
        .found(&state.shelf.wanted)
        .iter()
        .position(|at| *at == place)
        .unwrap_or(0);
    if let Some(needs) = needs {
        state.say(format!("{}: {needs}", words::NOT_OF_USE_YET));
    }
    Ok(effect)
}

/// Where the marked thing stands in the shop.
fn place(state: &ScreenState) -> usize {
    let found = state.shelf.found(wanted(state));
    found.get(state.shelf.at).copied().unwrap_or_default()
}

/// Changes the shop as one step that can be taken back, and lets the passes see it; the desk saves
/// it.
pub(super) fn changed(
    state: &mut ScreenState,
    said: &str,
    change: impl FnOnce(&mut Shop),
) -> Effect {
    let mut shop = state.shelf.shop().clone();
    change(&mut shop);
    if shop != *state.shelf.shop() {
        keep(state);
        state.shelf.put(Rc::new(shop));
    }
    state.see_shop();
    state.say(said);
    Effect::KeepShop
}

fn other_shelf(state: &mut ScreenState, steps: usize) {
    let all = Shelf::ALL;
    let at = all.iter().position(|s| *s == state.shelf.shelf);
    let view = &mut state.shelf;
    view.shelf = all[(at.unwrap_or_default() + steps) % all.len()];
    view.at = 0;
    view.row = None;
    view.wanted.clear();
}

impl ScreenState {
    /// Lets the passes see the shop as the view has it.
    pub(super) fn see_shop(&mut self) {
        self.set_shelves(self.shelf.shared().in_system(self.system));
        self.work_out();
    }
}
