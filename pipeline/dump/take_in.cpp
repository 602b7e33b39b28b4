#include "dump/take_in.h"

#include <fmt/format.h>

#include <cerrno>
#include <chrono>
#include <memory>
#include <optional>
#include <utility>

#include "book/originals.h"
#include "book/paths.h"
#include "dump/card_reader.h"
#include "dump/file_kind.h"
#include "dump/incoming.h"
#include "dump/part_file.h"
#include "dump/room_check.h"
#include "dump/second_copies.h"
#include "dump/stored_names.h"
#include "errors.h"

namespace stripbook::dump {

namespace {

constexpr const char* again = "run the same command again";

// The copies that a file is written to while it is read.
struct Copies {
    std::unique_ptr<PartFile> first;
    std::unique_ptr<PartFile> second;  // nothing without a second folder
};

book::CardFile as_seen(const CardEntry& entry, std::uint64_t bytes_read) {
    return {entry.name, bytes_read, entry.modified_seconds, entry.dcf_directory, entry.dcf_counter};
}

// One card being taken in.
class CardDump {
  public:
    CardDump(book::Book& book, std::filesystem::path card, const TakeInOptions& options, FileDoor& door)
        : book_(book),
          card_(std::move(card)),
          options_(options),
          door_(door),
          meter_(options.progress, options.stop, std::string(again) + " to finish") {}

    CardResult run();

  private:
    void prepare();
    void take_files();
    TakenFile take_file(std::size_t file_number, const CardEntry& entry);
    bool copy_and_record(std::size_t file_number, const CardEntry& entry, TakenFile& taken);
    bool store_new(const CardEntry& entry, const CardRead& read, Copies& copies, TakenFile& taken);
    bool store_known(const CardEntry& entry, const book::Original& original, Copies& copies,
                     TakenFile& taken);
    bool proved(PartFile& part, const std::string& sha256);
    void settle_second(const book::Original& original, Copies& copies, TakenFile& taken);
    bool stored_file_holds(const book::Original& original, const CardEntry& entry);
    std::string explain_disk_failure(const CardEntry& entry, const FileError& error);
    void note_early_end(const std::string& outcome);
    void judge();

    std::filesystem::path in_book(const std::string& relative) const { return book_.folder() / relative; }
    std::function<void()> between() {
        return [this] { meter_.pause(); };
    }

    book::Book& book_;
    std::filesystem::path card_;
    const TakeInOptions& options_;
    FileDoor& door_;
    Meter meter_;
    CardWalk walk_;
    std::optional<CardReader> reader_;
    std::optional<SecondCopies> second_;
    std::optional<StoredNames> names_;
    CardResult result_;
};

// Of the folder that would be written to: beside the book, a second folder's PET may be the book's own
// folder.
void refuse_second_folder(const std::filesystem::path& second, const std::filesystem::path& card,
                          const book::Book& book) {
    const std::filesystem::path written_to = second / book.code().text();
    const std::string name = book::printable_name(written_to.string());
    if (is_inside(written_to, card)) {
        throw WrongUse(
            fmt::format("second copies would go to \"{}\", on the card, and a card is never written to; give "
                        "a folder on another disk",
                        name));
    }
    if (is_inside(written_to, book.folder())) {
        throw WrongUse(fmt::format(
            "second copies would go to \"{}\", inside the job book; give a folder on another disk", name));
    }
}

CardResult CardDump::run() {
    const auto begun = std::chrono::steady_clock::now();
    try {
        prepare();
    } catch (const FileError& error) {
        throw OutsideError(fmt::format("{}; nothing was copied; see to that and {}", error.what(), again));
    }
    result_.dump = book::begin_dump(book_, card_.string(), options_.who);
    names_.emplace(book_, result_.dump, door_);
    take_files();
    judge();
    book::end_dump(book_, result_.dump, result_.every_file_proved ? "done" : "something needs a person");
    result_.seconds = std::chrono::duration<double>(std::chrono::steady_clock::now() - begun).count();
    return std::move(result_);
}

// Everything that can be refused is refused before the first byte is copied.
void CardDump::prepare() {
    result_.card = card_;
    walk_ = walk_card(card_, book_.folder());
    result_.left_out = walk_.left_out;
    if (options_.second_folder) {
        refuse_second_folder(*options_.second_folder, card_, book_);
    }
    reader_.emplace(card_, door_, meter_);
    door_.make_folders(in_book(book::incoming_folder));
    result_.remarks = finish_interrupted(book_, door_);
    if (options_.second_folder) {
        second_.emplace(book_, *options_.second_folder, door_);
        if (!second_->remark().empty()) {
            result_.remarks.push_back(second_->remark());
            result_.second_on_same_disk = true;
        }
    }
    check_room(book_, walk_.files, second_ ? &*second_ : nullptr, door_);
    std::uint64_t bytes = 0;
    for (const auto& entry : walk_.files) {
        bytes += entry.bytes;
    }
    meter_.expect(bytes, walk_.files.size());
}

void CardDump::take_files() {
    for (std::size_t i = 0; i < walk_.files.size(); ++i) {
        const CardEntry& entry = walk_.files[i];
        try {
            meter_.begin_file(entry.name);
            result_.files.push_back(take_file(i + 1, entry));
            meter_.end_file();
            if (options_.taken) {
                options_.taken(result_.files.back());
            }
        } catch (const FileError& error) {
            const std::string line = explain_disk_failure(entry, error);
            note_early_end(line);
            throw OutsideError(line);
        } catch (const Error& error) {
            note_early_end(error.what());
            throw;
        }
    }
}

void CardDump::note_early_end(const std::string& outcome) {
    try {
        book::end_dump(book_, result_.dump, outcome);
    } catch (const Error&) {
        // On a full disk the book cannot be written either; what ended the dump is the thing to be told.
    }
}

TakenFile CardDump::take_file(std::size_t file_number, const CardEntry& entry) {
    TakenFile taken;
    taken.name = entry.name;
    try {
        if (!copy_and_record(file_number, entry, taken) && !copy_and_record(file_number, entry, taken)) {
            throw NotProved("the copy does not read back as written: disk or cable?");
        }
    } catch (const NotProved& error) {
        taken.failure = book::printable_name(entry.name) + ": " + error.what();
    }
    return taken;
}

// False when the copy does not read back as written.
bool CardDump::copy_and_record(std::size_t file_number, const CardEntry& entry, TakenFile& taken) {
    Copies copies;
    copies.first = std::make_unique<PartFile>(door_, in_book(book::incoming_folder) / part_name(file_number));
    std::vector<PartFile*> written_to{copies.first.get()};
    if (second_ && second_->failure().empty()) {
        copies.second = second_->begin(file_number);
        written_to.push_back(copies.second.get());
    }
    const CardRead read = reader_->read(entry, written_to);
    result_.bytes += read.bytes;
    taken.bytes = read.bytes;
    taken.sha256 = read.sha256;
    const auto known = book::find_original(book_, read.sha256);
    return known ? store_known(entry, *known, copies, taken) : store_new(entry, read, copies, taken);
}

bool CardDump::proved(PartFile& part, const std::string& sha256) {
    if (part.prove(sha256, between())) {
        return true;
    }
    if (!part.failure()) {
        return false;
    }
    if (part.failure()->reason() == EFBIG) {
        throw NotProved("the book's disk does not take files this large; move the book to another disk");
    }
    throw FileError(*part.failure());
}

// The order survives being killed anywhere: proved, named by its hash, recorded, given its place.
bool CardDump::store_new(const CardEntry& entry, const CardRead& read, Copies& copies, TakenFile& taken) {
    if (!proved(*copies.first, read.sha256)) {
        return false;
    }
    const std::string stored_path = names_->choose(entry.name);
    const auto waiting = in_book(book::incoming_folder) / read.sha256;
    door_.make_folders(in_book(stored_path).parent_path());
    copies.first->move_to(waiting);
    const auto original = book::add_original(book_, result_.dump, as_seen(entry, read.bytes), read.sha256,
                                             kind_of_file(entry.name, read.first_bytes), stored_path);
    door_.rename(waiting, in_book(stored_path));
    taken.original = original.id;
    result_.bytes_new += read.bytes;
    settle_second(original, copies, taken);
    return true;
}

// The card may be wiped on the word of this, so the stored file is read again: it may have been changed or
// deleted.
bool CardDump::store_known(const CardEntry& entry, const book::Original& original, Copies& copies,
                           TakenFile& taken) {
    taken.known = true;
    taken.original = original.id;
    const auto stored = in_book(original.stored_path);
    const std::string stored_name = book::printable_name(original.stored_path);
    if (!door_.look(stored)) {
        if (!proved(*copies.first, original.sha256)) {
            return false;
        }
        const auto waiting = in_book(book::incoming_folder) / original.sha256;
        door_.make_folders(stored.parent_path());
        copies.first->move_to(waiting);
        door_.rename(waiting, stored);
        result_.remarks.push_back(stored_name +
                                  ": was missing from the book and is there again, from this card");
    } else if (!stored_file_holds(original, entry)) {
        throw NotProved("the book's own copy " + stored_name +
                        " is no longer what was taken in; move it away and " + again + " to store it afresh");
    }
    book::add_seen_again(book_, result_.dump, as_seen(entry, taken.bytes), original.id);
    settle_second(original, copies, taken);
    return true;
}

bool CardDump::stored_file_holds(const book::Original& original, const CardEntry& entry) {
    try {
        // A link put into photos/ may lead to the card itself, and what is wiped is no copy.
        if (same_file(door_, in_book(original.stored_path), card_ / entry.name)) {
            throw NotProved("the book's own copy " + book::printable_name(original.stored_path) +
                            " is this very file on the card; take the link out of the book's photos and " +
                            again);
        }
        return holds(door_, in_book(original.stored_path), original.sha256, between());
    } catch (const FileError& error) {
        throw NotProved(std::string("the book's own copy: ") + error.what() + "; run check");
    }
}

void CardDump::settle_second(const book::Original& original, Copies& copies, TakenFile& taken) {
    if (!second_) {
        return;
    }
    taken.second_failure = second_->settle(original, std::move(copies.second), between());
    taken.second_copy = taken.second_failure.empty();
}

std::string CardDump::explain_disk_failure(const CardEntry& entry, const FileError& error) {
    const char* const next = error.disk_full() ? "make room" : "see to the disk of the book";
    return fmt::format("{}: {}; {} are in; {} and {}", book::printable_name(entry.name), error.what(),
                       meter_.files_text(), next, again);
}

void CardDump::judge() {
    result_.every_file_proved = !walk_.something_unreadable;
    bool twice = second_.has_value();
    for (const auto& file : result_.files) {
        result_.every_file_proved = result_.every_file_proved && file.failure.empty();
        twice = twice && file.second_copy;
    }
    result_.every_file_proved_twice = result_.every_file_proved && twice;
}

}  // namespace

CardResult take_in(book::Book& book, const std::filesystem::path& card, const TakeInOptions& options,
                   FileDoor& door) {
    return CardDump(book, card, options, door).run();
}

}  // namespace stripbook::dump
