// Every original read again and held against its recorded hash.
#pragma once

#include <cstdint>
#include <functional>
#include <string>
#include <vector>

#include "book/book.h"
#include "dump/file_door.h"
#include "dump/meter.h"

namespace stripbook::dump {

/// Each line starts with the path relative to the book, in printable form, and says what to do.
struct CheckResult {
    std::vector<std::string> missing;  ///< recorded, not there
    std::vector<std::string>
        changed;  ///< other bytes than recorded, and links (the bytes are not in the book then)
    std::vector<std::string> unreadable;
    std::vector<std::string> extra;      ///< under photos/ and in no record
    std::vector<std::string> inside;     ///< faults of the book against itself
    std::uint64_t files = 0, bytes = 0;  ///< read
    [[nodiscard]] bool good() const {
        return missing.empty() && changed.empty() && unreadable.empty() && extra.empty() && inside.empty();
    }
};

/// Reads only; serves a read-only book. Throws Stopped when asked to.
CheckResult check_originals(const book::Book& book, FileDoor& door,
                            const std::function<void(const Progress&)>& progress = {},
                            const std::function<bool()>& stop = {});

}  // namespace stripbook::dump
