// stripbook find: a tag, words or a fresh photo of the tag, and the as-removed photos come up.
#include <fmt/format.h>
#include <sys/wait.h>
#include <unistd.h>

#include <algorithm>
#include <filesystem>
#include <memory>
#include <optional>
#include <set>
#include <vector>

#include "book/part_file.h"
#include "book/parts.h"
#include "book/paths.h"
#include "command.h"
#include "day/read_picture_file.h"
#include "errors.h"
#include "find/search.h"
#include "find_sheet.h"
#include "json_text.h"
#include "show_part.h"

namespace stripbook::cli {

namespace {

// More parts than this are listed one a line: nobody reads the photos of twenty parts at once.
constexpr std::size_t most_in_full = 5;

struct Typed {
    find::Wanted wanted;
    std::string stage;
    std::string picture;
    bool open = false;
    TypedSheet sheet;
};

void check(const Typed& typed) {
    const auto& w = typed.wanted;
    const bool by_words = !w.typed.empty() || !w.place.empty() || !w.assembly.empty() || !w.path.empty();
    if (by_words == !typed.picture.empty()) {
        throw WrongUse(
            "say what to find: a tag number, words, --place, --assembly or --path; or --picture alone");
    }
    if (!typed.stage.empty() && std::find(book::stage_words.begin(), book::stage_words.end(), typed.stage) ==
                                    book::stage_words.end()) {
        throw WrongUse(fmt::format("\"{}\" is no stage; the stages are: {}",
                                   book::printable_name(typed.stage), fmt::join(book::stage_words, ", ")));
    }
}

// The parts whose tags a fresh picture shows. A number that was not read for sure is a suggestion, and said
// to be one.
find::Found parts_in_picture(const book::Book& book, const Typed& typed) {
    const auto seen = day::tags_in_picture_file(typed.picture, book);
    find::Found found;
    for (const auto& tag : seen.read) {
        if (auto part = book::find_part(book, tag)) {
            found.parts.push_back(*std::move(part));
        } else {
            fmt::print(stderr, "stripbook: the picture shows {}, and the book has no such part\n",
                       tag.text());
        }
    }
    if (found.parts.empty()) {
        fmt::print(stderr, "stripbook: {}\n",
                   seen.words.empty()
                       ? "no tag of this book was read in the picture; take it closer, square on, "
                         "with the whole tag in it"
                       : seen.words);
    }
    found.all = found.parts.size();
    return found;
}

void keep_stage(book::PartFile& file, const std::string& stage) {
    if (!stage.empty()) {
        std::erase_if(file.photos, [&](const book::PartPhoto& p) { return p.stage != stage; });
    }
}

// With the program that the desktop opens pictures with, all at once so that it can leaf through them.
void open_photos(const book::Book& book, const std::vector<book::PartFile>& files) {
    std::vector<std::string> paths;
    for (const auto& file : files) {
        for (const auto& p : file.photos) {
            paths.push_back((book.folder() / p.photo.original.stored_path).string());
        }
    }
    for (const auto& path : paths) {
        const pid_t child = fork();
        if (child == 0) {
            execlp("xdg-open", "xdg-open", path.c_str(), nullptr);
            _exit(127);
        }
        int status = 0;
        if (child < 0 || waitpid(child, &status, 0) != child || !WIFEXITED(status) ||
            WEXITSTATUS(status) != 0) {
            throw OutsideError(
                fmt::format("{} could not be opened: this computer has no desktop that opens pictures "
                            "(xdg-open); the paths above lead to them",
                            path));
        }
    }
}

void print_list(const find::Found& found) {
    for (const auto& part : found.parts) {
        fmt::print("{}\n", heading_of(part));
    }
    if (found.all > found.parts.size()) {
        fmt::print("... and {} more\n", found.all - found.parts.size());
    }
    fmt::print("{}; type one's number, or more words\n", counted(found.all, "part", "parts"));
}

// As it was asked for, for the head of the sheet.
std::string words_of(const Typed& typed) {
    std::vector<std::string> words = typed.wanted.typed;
    words.insert(words.end(), typed.wanted.place.begin(), typed.wanted.place.end());
    words.insert(words.end(), typed.wanted.assembly.begin(), typed.wanted.assembly.end());
    for (const auto& word : {typed.wanted.path, typed.stage}) {
        if (!word.empty()) {
            words.push_back(word);
        }
    }
    return words.empty() ? "the tag in a picture" : fmt::format("{}", fmt::join(words, ", "));
}

void tell_sheet(const print::ContactSheetResult& sheet, Context& context) {
    fmt::print("{}: {} in {}\n", sheet.file.string(),
               counted(static_cast<std::size_t>(sheet.photos), "photo", "photos"),
               counted(static_cast<std::size_t>(sheet.pages), "page", "pages"));
    for (const auto& remark : sheet.remarks) {
        fmt::print("    note: {}\n", remark);
        context.status = needs_a_person;
    }
}

// A sheet has so many parts and no more: what is not on it must not be missed.
void refuse_if_cut(const find::Found& found) {
    if (found.all > found.parts.size()) {
        throw WrongUse(fmt::format("{} parts were found, and a sheet takes {}: ask for fewer (--assembly)",
                                   found.all, found.parts.size()));
    }
}

void find_parts(const Typed& typed, Context& context) {
    check(typed);
    const auto book = open_book(context, book::Access::read, "find");
    const auto found =
        typed.picture.empty() ? find::find_parts(book, typed.wanted) : parts_in_picture(book, typed);
    if (found.parts.empty()) {
        context.status = needs_a_person;
    }
    const bool in_full = found.parts.size() <= most_in_full;
    std::vector<book::PartFile> files;
    for (const auto& part : found.parts) {
        if (in_full || context.json || typed.open || typed.sheet.wanted) {
            files.push_back(book::gather_part(book, part.tag));
            keep_stage(files.back(), typed.stage);
        }
    }
    std::optional<print::ContactSheetResult> sheet;
    if (typed.sheet.wanted && !files.empty()) {
        refuse_if_cut(found);
        sheet = write_find_sheet(book, files, words_of(typed), typed.sheet);
    }
    if (context.json) {
        auto all = nlohmann::json::array();
        for (const auto& file : files) {
            all.push_back(to_json(book, file));
        }
        nlohmann::json answer{{"parts", all}, {"all", found.all}};
        if (sheet) {
            answer["sheet"] = {{"file", sheet->file.string()},
                               {"pages", sheet->pages},
                               {"photos", sheet->photos},
                               {"remarks", sheet->remarks}};
        }
        print_json(answer);
    } else if (sheet) {
        tell_sheet(*sheet, context);
    } else if (found.parts.empty()) {
        if (typed.picture.empty()) {
            fmt::print("no part has all of that; try fewer words, or the number on the tag\n");
        }
    } else if (!in_full) {
        print_list(found);
    } else {
        for (const auto& file : files) {
            print_part(book, file);
        }
    }
    if (typed.open) {
        open_photos(book, files);
    }
}

}  // namespace

void add_find(CLI::App& app, Context& context) {
    auto typed = std::make_shared<Typed>();
    auto* command =
        add_command(app, context, "find",
                    "find a part by tag, words or a picture of its tag: its record, photos and files");
    command->add_option("words", typed->wanted.typed,
                        "a tag number (417), or words of name, place, storage ...");
    command->add_option("--place", typed->wanted.place, "words of where it sat");
    command->add_option("--assembly", typed->wanted.assembly, "words of the assembly");
    command->add_option("--path", typed->wanted.path,
                        "undecided, use again, repair, buy, make, hold or scrap");
    command->add_option("--stage", typed->stage, "only photos of this stage, for example as-removed");
    command->add_option("--picture", typed->picture, "a fresh photo: the tag in it says which part this is");
    command->add_flag("--sheet", typed->sheet.wanted, "their photos as a PDF of small pictures");
    command->add_option("--out", typed->sheet.out,
                        "with --sheet: the PDF (default: in the book's reports folder)");
    command->add_option("--paper", typed->sheet.paper, "a4 or letter")
        ->check(CLI::IsMember({"a4", "letter"}));
    command->add_flag("--open", typed->open, "open the photos on the screen");
    command->callback([typed, &context] { find_parts(*typed, context); });
}

}  // namespace stripbook::cli
