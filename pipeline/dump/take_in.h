// A card into the book, verified. One read of the card: each file is hashed while it is copied to a temporary
// name, synced, read back past the page cache and compared by SHA-256; then it is recorded, then renamed to
// its place. Killed anywhere, running again finishes and nothing is lost or doubled.
#pragma once

#include <cstdint>
#include <filesystem>
#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "book/book.h"
#include "book/records.h"
#include "dump/card_walk.h"
#include "dump/file_door.h"
#include "dump/meter.h"

namespace stripbook::dump {

struct TakenFile {
    std::string name;  ///< raw, as on the card
    std::uint64_t bytes = 0;
    std::string sha256;        ///< empty when it could not be read
    bool known = false;        ///< the book had these bytes already
    bool second_copy = false;  ///< a proved second copy lies in the second folder
    /// Empty when it failed, except for known bytes whose stored file is no longer what was recorded.
    std::optional<book::OriginalId> original;
    std::string failure;         ///< one line when it could not be taken in
    std::string second_failure;  ///< one line when a second copy was asked for and is not proved
};

struct CardResult {
    std::filesystem::path card;
    book::DumpId dump;
    std::vector<TakenFile> files;
    std::vector<std::string> left_out;  ///< from the walk
    std::vector<std::string> remarks;   ///< other things the person should know, one line each
    std::uint64_t bytes = 0;            ///< read from the card
    std::uint64_t bytes_new = 0;
    bool every_file_proved = false;        ///< nothing failed and nothing was unreadable
    bool every_file_proved_twice = false;  ///< and the second copy too
    bool second_on_same_disk = false;      ///< the second copies would go with the book when its disk fails
    double seconds = 0;
};

struct TakeInOptions {
    std::optional<std::filesystem::path> second_folder;  ///< for second copies; made when missing
    std::string who;
    std::function<void(const Progress&)> progress;  ///< at most ten times a second
    std::function<bool()> stop;                     ///< asked between chunks; true ends with Stopped
    std::function<void(const TakenFile&)> taken;    ///< called when a file is in, or has failed, for good
};

/// Takes one card in. A file that cannot be read or proved is a failure in the result and the rest goes on; a
/// full disk (checked before copying, and again as it happens) and a card that has gone away throw
/// OutsideError, with what was kept and what to do. Stopped when asked to. Bytes that the book knows are not
/// stored twice, but the stored file is read again before the card's file counts as proved, and stored again
/// when it is gone. WrongUse when the second folder lies inside the card or inside the book.
CardResult take_in(book::Book& book, const std::filesystem::path& card, const TakeInOptions& options,
                   FileDoor& door);

/// Finishes what a killed dump left: proved and recorded copies get their names, unproved temporary files go.
/// Returns lines for the person. Called by take_in.
std::vector<std::string> finish_interrupted(book::Book& book, FileDoor& door);

}  // namespace stripbook::dump
