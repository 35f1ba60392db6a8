//! Long work: when it begins, what is heard of it, when it ends.

use super::start;
use crate::plan::long::{Answer, InputHash, Kind, Question};
use crate::report::ViewKind;
use crate::solve::watch::Standing;
use crate::tui::effect::Effect;
use crate::tui::state::{Running, State};

/// Whether the view shown is the one of some long work.
fn is_here(state: &State, kind: Kind) -> bool {
    let view = ViewKind::of_stage(kind.stage()).map(|view| view.id);
    view.is_some() && view == state.screen()
}

/// The question of the stage shown.
pub(super) fn question(state: &State) -> Option<&Question> {
    state.plan.as_ref()?.questions.iter().find(|question| is_here(state, question.kind))
}

/// The work under way, where its view is shown.
pub(super) fn in_sight(state: &State) -> Option<&Running> {
    state.long.as_ref().filter(|running| is_here(state, running.kind))
}

/// After every action: ends work whose question is gone, and begins what
/// begins alone and was not tried before.
pub(super) fn settle(state: &mut State) -> Vec<Effect> {
    let Some(plan) = state.plan.clone().filter(|_| !state.waiting) else { return Vec::new() };
    let mut effects = Vec::new();
    if let Some(running) = &state.long {
        if plan.questions.iter().any(|question| question.input == running.input) {
            return effects;
        }
        state.long = None;
        effects.push(Effect::EndLong);
    }
    let new = |question: &&Question| {
        let here = is_here(state, question.kind) && question.kind.begins_alone();
        here && state.known.find(question.input).is_none()
    };
    if let Some(question) = plan.questions.iter().find(new).cloned() {
        effects.push(begin(state, question, false));
    }
    effects
}

/// What the person asks for: work until it is done or stopped.
pub(super) fn go_on(state: &mut State) -> Vec<Effect> {
    match question(state).cloned() {
        Some(question) => vec![begin(state, question, true)],
        None => {
            state.said = "there is nothing that time could answer better here".to_owned();
            Vec::new()
        }
    }
}

fn begin(state: &mut State, question: Question, to_the_end: bool) -> Effect {
    let (kind, input) = (question.kind, question.input);
    state.long = Some(Running { kind, input, standing: Standing::default() });
    Effect::Long { question, to_the_end }
}

/// Ends the work in sight; its answer so far is on the way.
pub(super) fn end(state: &mut State) -> Vec<Effect> {
    if in_sight(state).is_none() {
        return Vec::new();
    }
    state.said = "stopping; the best so far is kept".to_owned();
    vec![Effect::EndLong]
}

/// Hears where the work stands; news of other work is dropped.
pub(super) fn stands(state: &mut State, input: InputHash, standing: Standing) {
    if let Some(running) = state.long.as_mut().filter(|running| running.input == input) {
        running.standing = standing;
    }
}

/// Takes what came of the work. It is remembered in any case; the plan is
/// worked out again only where it asks that question.
pub(super) fn done(
    state: &mut State,
    input: InputHash,
    answer: Result<Answer, String>,
) -> Vec<Effect> {
    if state.long.as_ref().is_some_and(|running| running.input == input) {
        state.long = None;
    }
    match answer {
        Err(trouble) => {
            state.said = trouble;
            Vec::new()
        }
        Ok(answer) => {
            let standing = answer.standing();
            state.known.learn(input, answer);
            let asked = state
                .plan
                .as_ref()
                .is_some_and(|plan| plan.questions.iter().any(|question| question.input == input));
            if !asked || state.waiting {
                return Vec::new();
            }
            state.said = format!("{}: {}", standing.phase, standing.best);
            if !standing.bound.is_empty() {
                state.said.push_str(&format!(", bound {}", standing.bound));
            }
            start(state)
        }
    }
}
