//! The sorts of blocks of a job that no rule judges yet, by the examples of the registry.

use std::collections::BTreeSet;
use std::sync::LazyLock;

use crate::model::Model;

use super::registry::RULES;

/// Blocks that say where things stand; what stands there is judged, not they.
const GROUND: &[&str] = &["job", "story", "standards", "catalog", "include", "let"];

/// Words that a rule judges without its example opening their block: the word, the rule's code.
const ALSO: &[(&str, &str)] = &[
    ("thermostat", "CTL004"),
    ("relay", "CTL005"),
    ("switch", "CTL014"),
    ("splice", "CTL009"),
    ("boiler", "CTL001"),
    ("outdoor-unit", "CTL001"),
    ("chiller", "CTL001"),
    ("flue", "ACC002"),
    ("obstacle", "ACC002"),
    ("wall", "ACC002"),
    ("roof-plane", "ACC002"),
    ("damper", "AIR043"),
];

/// Words that open a line of a rule's example, or that a rule judges without: what the rules judge.
static RULED: LazyLock<BTreeSet<&'static str>> = LazyLock::new(|| {
    let also = ALSO
        .iter()
        .filter(|(_, code)| RULES.iter().any(|rule| rule.kind.code == *code))
        .map(|(word, _)| *word);
    RULES
        .iter()
        .flat_map(|rule| rule.example.wrong.lines())
        .filter_map(|line| line.split_whitespace().next())
        .chain(also)
        .collect()
});

/// The words of the job's blocks that no rule judges yet, in order of the alphabet, each once.
pub fn unruled(model: &Model) -> Vec<&'static str> {
    let kinds: BTreeSet<&'static str> = model
        .parts
        .iter()
        .map(|part| part.kind)
        .filter(|kind| !GROUND.contains(kind) && !RULED.contains(kind))
        .collect();
    kinds.into_iter().collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::language::all_words;

    #[test]
    fn what_is_judged_besides_names_words_and_rules_that_exist() {
        let words: Vec<&str> = all_words().into_iter().map(|(_, word)| word.word).collect();
        for (word, code) in ALSO {
            assert!(words.contains(word), "{word}");
            assert!(RULES.iter().any(|rule| rule.kind.code == *code), "{code}");
        }
    }

    #[test]
    fn a_word_that_opens_an_example_is_judged_and_one_inside_another_block_is_not() {
        assert!(RULED.contains("drain"));
        assert!(RULED.contains("pan"));
        assert!(!RULED.contains("stand"));
        assert!(!RULED.contains("breaker"));
    }
}
