// stripbook stage: a person's word on what stage photos show, or a part is at from a day on.
#include <fmt/format.h>

#include <algorithm>
#include <memory>
#include <optional>

#include "book/number_text.h"
#include "book/part_stages.h"
#include "book/paths.h"
#include "book/photos.h"
#include "book/settings.h"
#include "book/tag_meanings.h"
#include "book/unsettled_groups.h"
#include "command.h"
#include "errors.h"
#include "json_text.h"

namespace stripbook::cli {

namespace {

struct Typed {
    std::vector<std::string> words;  // what it is said of, then the stage
    std::string from;
    bool clear = false;
};

using book::PhotoNumber;

std::string without_p(const std::string& word) {
    return !word.empty() && (word[0] == 'p' || word[0] == 'P') ? word.substr(1) : word;
}

bool is_photo_word(const std::string& word) {
    const auto hyphen = word.find('-');
    return book::whole_from(without_p(word.substr(0, hyphen))).has_value() &&
           (hyphen == std::string::npos || book::whole_from(without_p(word.substr(hyphen + 1))).has_value());
}

// "p12" or "p12-p20": the first and the last must exist; numbers between that are no photos are passed over.
std::vector<PhotoNumber> photos_of_word(const book::Book& book, const std::string& word) {
    const auto hyphen = word.find('-');
    const auto first = book::photo_from_typed(book, word.substr(0, hyphen));
    const auto last =
        hyphen == std::string::npos ? first : book::photo_from_typed(book, word.substr(hyphen + 1));
    if (last < first) {
        throw WrongUse(fmt::format("{} runs backwards: write {}-{}", book::printable_name(word), last.text(),
                                   first.text()));
    }
    std::vector<PhotoNumber> photos;
    for (PhotoNumber photo = first; photo <= last; ++photo.value) {
        if (photo == first || photo == last || book::find_photo(book, photo)) {
            photos.push_back(photo);
        }
    }
    return photos;
}

void say_of_part(const std::string& typed_tag, const std::string& stage, const Typed& typed,
                 const Context& context) {
    auto book = open_book(context, book::Access::write, "stage");
    const auto tag = book::part_from_typed(book, typed_tag);
    book::set_part_stage(book, tag, typed.from, stage, book::who_is_working(book));
    if (context.json) {
        print_json({{"tag", tag.text()}, {"from", typed.from}, {"stage", stage}});
    } else if (stage.empty()) {
        fmt::print("{} has no stage of a person's from {} on any more\n", tag.text(), typed.from);
    } else {
        fmt::print("{} is at the stage {} from {} on\n", tag.text(), stage, typed.from);
    }
}

void say_of_photos(const std::vector<std::string>& words, const std::string& stage, const Context& context) {
    auto book = open_book(context, book::Access::write, "stage");
    std::vector<PhotoNumber> photos;
    for (const auto& word : words) {
        const auto own = photos_of_word(book, word);
        photos.insert(photos.end(), own.begin(), own.end());
    }
    const auto who = book::who_is_working(book);
    book.together([&] {
        for (const auto& photo : photos) {
            book::set_stage(book, photo, stage, who);
        }
    });
    if (context.json) {
        auto list = nlohmann::json::array();
        for (const auto& photo : photos) {
            list.push_back(photo.text());
        }
        print_json({{"photo", photos.front().text()}, {"photos", list}, {"stage", stage}});
        return;
    }
    const bool one = photos.size() == 1;
    fmt::print("{} {}\n", book::photo_list(photos),
               stage.empty() ? fmt::format("{} no stage of a person's any more", one ? "has" : "have")
                             : fmt::format("{} the stage {}", one ? "shows" : "show", stage));
}

void set_stage(const Typed& typed, const Context& context) {
    auto words = typed.words;
    const auto is_stage = [](const std::string& word) {
        return std::find(book::stage_words.begin(), book::stage_words.end(), word) != book::stage_words.end();
    };
    std::string stage;
    if (!typed.clear && words.size() > 1) {
        stage = words.back();
        words.pop_back();
    }
    const bool stage_in_place = typed.clear ? words.empty() || !is_stage(words.back()) : is_stage(stage);
    if (!stage_in_place && !stage.empty() && !is_photo_word(stage)) {
        throw WrongUse(fmt::format("\"{}\" is not a stage: there are {}", book::printable_name(stage),
                                   fmt::join(book::stage_words, ", ")));
    }
    if (!stage_in_place || words.empty()) {
        throw WrongUse(
            fmt::format("give photos and then a stage ({}) or --clear", fmt::join(book::stage_words, ", ")));
    }
    const bool photos = std::all_of(words.begin(), words.end(), is_photo_word);
    if (photos && typed.from.empty()) {
        say_of_photos(words, stage, context);
    } else if (photos || words.size() > 1) {
        throw WrongUse(
            "name photos (p12, p12-p20), or one part with --from, for example: stripbook stage "
            "PET-00417 cleaned --from 2026-04-02");
    } else if (typed.from.empty()) {
        throw WrongUse(fmt::format("say from which day the part {} is at a stage: --from 2026-04-02",
                                   book::printable_name(words.front())));
    } else {
        say_of_part(words.front(), stage, typed, context);
    }
}

}  // namespace

void add_stage(CLI::App& app, Context& context) {
    auto typed = std::make_shared<Typed>();
    auto* command =
        add_command(app, context, "stage", "say which stage photos show, or a part is at from a day on");
    command->add_option(
        "words", typed->words,
        fmt::format("photos (p12, p12-p20) or one part's tag, then {}", fmt::join(book::stage_words, ", ")));
    command->add_option("--from", typed->from, "of a part: from this day on, for example 2026-04-02");
    command->add_flag("--clear", typed->clear, "take a person's stage back");
    command->callback([typed, &context] { set_stage(*typed, context); });
}

}  // namespace stripbook::cli
