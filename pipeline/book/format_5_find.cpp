// The index of words takes what inspection, path and refitting say of a part.
#include "book/format_5.h"

namespace stripbook::book {

// As in format 4, triggers only note whose words are due. A part of a format-4 book is due when it has any.
const char* const format_5_find = R"sql(
INSERT OR IGNORE INTO word_index_due
    SELECT tag FROM inspection UNION SELECT tag FROM part_path UNION SELECT tag FROM work
    UNION SELECT tag FROM refit_note;
CREATE TRIGGER words_of_inspection AFTER INSERT ON inspection
    BEGIN INSERT OR IGNORE INTO word_index_due VALUES (new.tag); END;
CREATE TRIGGER words_of_inspection_undone AFTER DELETE ON inspection
    BEGIN INSERT OR IGNORE INTO word_index_due VALUES (old.tag); END;
CREATE TRIGGER words_of_new_path AFTER INSERT ON part_path
    BEGIN INSERT OR IGNORE INTO word_index_due VALUES (new.tag); END;
CREATE TRIGGER words_of_changed_path AFTER UPDATE ON part_path
    BEGIN INSERT OR IGNORE INTO word_index_due VALUES (new.tag); END;
CREATE TRIGGER words_of_path_undone AFTER DELETE ON part_path
    BEGIN INSERT OR IGNORE INTO word_index_due VALUES (old.tag); END;
CREATE TRIGGER words_of_new_work AFTER INSERT ON work
    BEGIN INSERT OR IGNORE INTO word_index_due VALUES (new.tag); END;
CREATE TRIGGER words_of_changed_work AFTER UPDATE ON work
    BEGIN INSERT OR IGNORE INTO word_index_due VALUES (new.tag); END;
CREATE TRIGGER words_of_work_undone AFTER DELETE ON work
    BEGIN INSERT OR IGNORE INTO word_index_due VALUES (old.tag); END;
CREATE TRIGGER words_of_new_refit_note AFTER INSERT ON refit_note
    BEGIN INSERT OR IGNORE INTO word_index_due VALUES (new.tag); END;
CREATE TRIGGER words_of_ended_refit_note AFTER UPDATE ON refit_note
    BEGIN INSERT OR IGNORE INTO word_index_due VALUES (new.tag); END;
CREATE TRIGGER words_of_refit_note_undone AFTER DELETE ON refit_note
    BEGIN INSERT OR IGNORE INTO word_index_due VALUES (old.tag); END;
)sql";

}  // namespace stripbook::book
