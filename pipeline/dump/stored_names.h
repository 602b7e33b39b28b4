// The names that files of one dump get in the book.
#pragma once

#include <map>
#include <set>
#include <string>

#include "book/book.h"
#include "book/records.h"
#include "dump/file_door.h"

namespace stripbook::dump {

/// The book may be moved to a disk that folds case, so two names that differ only in case count as the same,
/// and a file may not have the name of a folder.
class StoredNames {
  public:
    StoredNames(const book::Book& book, book::DumpId dump, FileDoor& door);

    /// A free stored path in the dump's folder for a file of the card, for example
    /// photos/0001/DCIM/100X/A0001 (2).JPG. Never gives a path twice.
    std::string choose(const std::string& name_on_card);

  private:
    [[nodiscard]] std::string folder_for(const std::string& above, const std::string& name) const;
    [[nodiscard]] bool is_free(const std::string& path) const;
    void note(const std::string& path);

    const book::Book& book_;
    book::DumpId dump_;
    FileDoor& door_;
    std::set<std::u32string> files_;    ///< with case folded
    std::set<std::u32string> folders_;  ///< the same
    /// The last number tried behind a name, so that a card full of one name does not take forever.
    std::map<std::u32string, int> last_copy_;
};

/// For comparing names as a disk that folds case does. `name` is UTF-8.
std::u32string with_case_folded(const std::string& name);

}  // namespace stripbook::dump
