#include "dump/card_reader.h"

#include <fmt/format.h>

#include <system_error>
#include <utility>

#include "book/paths.h"
#include "dump/file_kind.h"
#include "dump/incoming.h"
#include "errors.h"

namespace stripbook::dump {

CardReader::CardReader(std::filesystem::path card, FileDoor& door, Meter& meter)
    : card_(std::move(card)), door_(door), meter_(meter), device_at_start_(device()) {}

CardRead CardReader::read(const CardEntry& entry, const std::vector<PartFile*>& copies) {
    CardRead read;
    try {
        const auto source = door_.open_to_read(card_ / entry.name);
        read.sha256 = hash_of(*source, [&](std::string_view bytes) {
            if (read.bytes == 0) {
                read.first_bytes = bytes.substr(0, kind_start_bytes);
            }
            read.bytes += bytes.size();
            for (PartFile* copy : copies) {
                copy->write(bytes);
            }
            meter_.advance(bytes.size());
        });
    } catch (const FileError& error) {
        explain(entry, error);
    }
    return read;
}

// The copies keep their failures to themselves, so what arrives here is the card's.
void CardReader::explain(const CardEntry& entry, const FileError& error) {
    if (!card_is_there()) {
        throw OutsideError(fmt::format(
            "the card \"{}\" has gone away after {}, at \"{}\"; put it back and run the same command again",
            book::printable_name(card_.string()), meter_.files_text(), book::printable_name(entry.name)));
    }
    throw NotProved(std::string(error.what()) +
                    "; copy it by hand or try another card reader, and do not wipe the card");
}

// After a pull the folder may be gone, be an empty mount point, or refuse to be listed.
bool CardReader::card_is_there() {
    try {
        return device() == device_at_start_ && !door_.names_in(card_).empty();
    } catch (const FileError&) {
        return false;
    }
}

// Of the folder itself: the card may be given by a link.
std::optional<std::uint64_t> CardReader::device() {
    std::error_code gone;
    const auto folder = std::filesystem::canonical(card_, gone);
    const auto facts = gone ? std::nullopt : door_.look(folder);
    return facts ? std::optional(facts->device) : std::nullopt;
}

}  // namespace stripbook::dump
