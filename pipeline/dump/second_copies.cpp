#include "dump/second_copies.h"

#include <system_error>
#include <utility>

#include "book/originals.h"
#include "book/paths.h"
#include "dump/incoming.h"

namespace stripbook::dump {

namespace {

std::filesystem::path whole_path(const std::filesystem::path& folder) {
    std::error_code failed;
    auto whole = std::filesystem::weakly_canonical(folder, failed);
    return failed ? std::filesystem::absolute(folder) : whole;
}

bool on_one_disk(const std::filesystem::path& a, const std::filesystem::path& b, FileDoor& door) {
    const auto facts_a = door.look(a);
    const auto facts_b = door.look(b);
    return facts_a && facts_b && facts_a->device == facts_b->device;
}

}  // namespace

SecondCopies::SecondCopies(book::Book& book, const std::filesystem::path& folder, FileDoor& door)
    : book_(book),
      door_(door),
      root_(whole_path(folder) / book.code().text()),
      incoming_(root_ / incoming_name),
      recorded_name_(whole_path(folder).string()) {
    try {
        door_.make_folders(incoming_);
        for (const auto& name : door_.names_in(incoming_)) {
            if (is_part_name(name)) {
                door_.remove(incoming_ / name);
            }
        }
        if (on_one_disk(book_.folder() / book::incoming_folder, root_, door_)) {
            remark_ =
                "the second copies lie on the same disk as the book: they do not help when that disk fails";
        }
    } catch (const FileError& error) {
        failure_ =
            std::string("no second copy: ") + error.what() + "; see to the second folder and run again";
    }
}

std::unique_ptr<PartFile> SecondCopies::begin(std::size_t file_number) {
    return std::make_unique<PartFile>(door_, incoming_ / part_name(file_number));
}

std::string SecondCopies::settle(const book::Original& original, std::unique_ptr<PartFile> part,
                                 const std::function<void()>& between) {
    if (!failure_.empty()) {
        return failure_;
    }
    try {
        place(original, std::move(part), between);
    } catch (const FileError& error) {
        const std::string next = error.disk_full() ? "; make room there and run again"
                                                   : "; see to the second folder and run again";
        return std::string("no second copy: ") + error.what() + next;
    } catch (const NotProved& error) {
        return std::string("no second copy: ") + error.what();
    }
    if (!book::has_second_copy(book_, original.id, recorded_name_)) {
        book::add_second_copy(book_, original.id, recorded_name_);
    }
    return {};
}

void SecondCopies::place(const book::Original& original, std::unique_ptr<PartFile> part,
                         const std::function<void()>& between) {
    const std::filesystem::path place = root_ / original.stored_path;
    if (door_.look(place)) {
        if (same_file(door_, place, book_.folder() / original.stored_path)) {
            throw NotProved("\"" + book::printable_name(place.string()) +
                            "\" is the book's own file under another name; move it away and run again");
        }
        if (!holds(door_, place, original.sha256, between)) {
            throw NotProved("\"" + book::printable_name(place.string()) +
                            "\" holds other bytes; move it away and run again");
        }
        return;
    }
    if (!part || !part->prove(original.sha256, between)) {
        part.reset();
        part = copied_from_book(original, between);
    }
    door_.make_folders(place.parent_path());
    part->move_to(place);
}

std::unique_ptr<PartFile> SecondCopies::copied_from_book(const book::Original& original,
                                                         const std::function<void()>& between) {
    auto part = std::make_unique<PartFile>(door_, incoming_ / part_name(0));
    const auto stored = book_.folder() / original.stored_path;
    const auto source = door_.open_to_read(stored);
    const std::string sha256 = hash_of(*source, [&](std::string_view bytes) {
        part->write(bytes);
        between();
    });
    if (sha256 != original.sha256) {
        throw NotProved("\"" + book::printable_name(original.stored_path) +
                        "\" in the book is no longer what was taken in; run check");
    }
    if (!part->prove(sha256, between)) {
        if (part->failure()) {
            throw FileError(*part->failure());
        }
        throw NotProved("it does not read back as written: disk or cable?");
    }
    return part;
}

}  // namespace stripbook::dump
