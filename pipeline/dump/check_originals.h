// Every original read again and held against its recorded hash.
#pragma once

#include <cstdint>
#include <functional>
#include <string>
#include <vector>

#include "book/book.h"
#include "dump/take_in.h"

namespace stripbook::dump {

struct CheckResult {
    std::vector<std::string> missing;  ///< recorded, not there (relative paths)
    std::vector<std::string> changed;  ///< other bytes than recorded
    std::vector<std::string> unreadable;
    std::vector<std::string> extra;  ///< under photos/ and in no record
    std::vector<std::string> inside;  ///< faults of the book against itself
    std::uint64_t files = 0, bytes = 0;
    [[nodiscard]] bool good() const {
        return missing.empty() && changed.empty() && unreadable.empty() && extra.empty() && inside.empty();
    }
};

/// Reads only; serves a read-only book.
CheckResult check_originals(const book::Book& book, FileDoor& door,
                            const std::function<void(const Progress&)>& progress = {},
                            const std::function<bool()>& stop = {});

}  // namespace stripbook::dump
