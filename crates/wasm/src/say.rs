//! What is said of a question that cannot be answered.

use dewpath_message::messages;
use dewpath_message::slot::Reference;

messages! {
    struct NotRead { why: Reference } = "question.not-read"

    enum Hint { Reload = "question.hint.reload" }
}

#[cfg(test)]
mod tests {
    use dewpath_words::Catalogue;

    #[test]
    fn every_message_has_its_text_and_every_text_its_message() {
        let english = Catalogue::read(include_str!("../../words/catalogue/en/question.txt"));
        assert_eq!(english.faults(&["question."], super::DECLARED), [""; 0]);
    }
}
