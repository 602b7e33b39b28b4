#include "dump/incoming.h"

#include <algorithm>
#include <optional>
#include <string_view>
#include <vector>

#include "book/originals.h"
#include "book/paths.h"
#include "dump/part_file.h"
#include "dump/take_in.h"

namespace stripbook::dump {

namespace {

constexpr std::string_view part_ending = ".part";

// What cannot be read is not proved.
bool still_proved(FileDoor& door, const std::filesystem::path& copy, const std::string& sha256) {
    try {
        return holds(door, copy, sha256, [] {});
    } catch (const FileError&) {
        return false;
    }
}

// Returns a line for the person, or nothing.
std::string finish_proved(const book::Book& book, FileDoor& door, const std::string& sha256) {
    const auto copy = book.folder() / book::incoming_folder / sha256;
    const auto original = book::find_original(book, sha256);
    if (!original || door.look(book.folder() / original->stored_path)) {
        door.remove(copy);
        return {};
    }
    const std::string name = book::printable_name(original->stored_path);
    if (!still_proved(door, copy, sha256)) {
        door.remove(copy);
        return name +
               ": the copy that an interrupted dump left is damaged; dump its card again before it is wiped";
    }
    const auto place = book.folder() / original->stored_path;
    door.make_folders(place.parent_path());
    door.rename(copy, place);
    return name + ": finished what an interrupted dump left";
}

}  // namespace

std::string part_name(std::size_t file_number) {
    return std::to_string(file_number) + std::string(part_ending);
}

bool is_part_name(const std::string& name) {
    return name.size() > part_ending.size() &&
           name.compare(name.size() - part_ending.size(), part_ending.size(), part_ending) == 0;
}

bool is_hash_name(const std::string& name) {
    return name.size() == 64 && name.find_first_not_of("0123456789abcdef") == std::string::npos;
}

bool holds(FileDoor& door, const std::filesystem::path& place, const std::string& sha256,
           const std::function<void()>& between) {
    const auto facts = door.look(place);
    if (!facts || facts->kind != EntryKind::file) {
        return false;
    }
    const auto source = door.open_past_cache(place);
    return hash_of(*source, [&](std::string_view) { between(); }) == sha256;
}

bool same_file(FileDoor& door, const std::filesystem::path& a, const std::filesystem::path& b) {
    const auto facts_a = door.look(a);
    const auto facts_b = door.look(b);
    return facts_a && facts_b && facts_a->device == facts_b->device && facts_a->inode == facts_b->inode;
}

std::vector<std::string> finish_interrupted(book::Book& book, FileDoor& door) {
    std::vector<std::string> lines;
    const auto incoming = book.folder() / book::incoming_folder;
    for (const auto& name : door.names_in(incoming)) {
        const auto facts = door.look(incoming / name);
        const bool a_file = facts && facts->kind == EntryKind::file;
        std::string line;
        if (a_file && is_part_name(name)) {
            door.remove(incoming / name);
        } else if (a_file && is_hash_name(name)) {
            line = finish_proved(book, door, name);
        } else {
            line = std::string(book::incoming_folder) + "/" + book::printable_name(name) +
                   " is not from a dump; move it away";
        }
        if (!line.empty()) {
            lines.push_back(line);
        }
    }
    return lines;
}

}  // namespace stripbook::dump
