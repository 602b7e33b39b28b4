// stripbook refit before, together, forget, done: what people say about the way back together.
#include <fmt/format.h>

#include <algorithm>
#include <memory>

#include "book/paths.h"
#include "book/tag_meanings.h"
#include "errors.h"
#include "json_text.h"
#include "refit_plan.h"
#include "typed_words.h"

namespace stripbook::cli {

namespace {

using number::TagNumber;

struct Typed {
    std::vector<std::string> tags;
    bool undo = false;
    std::string by;
};

// The words as they now stand, and the circles there are.
void answer_words(const book::Book& book, const std::vector<book::RefitWord>& words, bool taken_back,
                  Context& context) {
    const auto plan = refit_plan(book);
    context.status = plan.order.circles.empty() ? done : needs_a_person;
    if (context.json) {
        print_json(
            {{"words", to_json(words)}, {"taken_back", taken_back}, {"circles", circles_as_json(plan)}});
        return;
    }
    for (const auto& word : words) {
        fmt::print("{}{}\n", taken_back ? "taken back: " : "", word_words(word));
    }
    print_circles(plan);
}

bool is_about(const book::RefitWord& word, const TagNumber& one, const TagNumber& other) {
    return (word.first == one && word.second == other) || (word.first == other && word.second == one);
}

// Words of this kind about neighbours in the row of tags.
std::vector<book::RefitWord> words_about(const book::Book& book, book::RefitWordKind kind,
                                         const std::vector<TagNumber>& tags) {
    std::vector<book::RefitWord> words;
    for (const auto& word : book::refit_words(book)) {
        bool named = false;
        for (std::size_t i = 1; i < tags.size(); ++i) {
            named = named ||
                    (kind == book::RefitWordKind::before ? word.first == tags[i - 1] && word.second == tags[i]
                                                         : is_about(word, tags[i - 1], tags[i]));
        }
        if (word.kind == kind && named) {
            words.push_back(word);
        }
    }
    return words;
}

// One by one: a part typed twice is for the book to answer.
std::vector<TagNumber> two_tags(const book::Book& book, const Typed& typed) {
    return {book::part_from_typed(book, typed.tags.at(0)), book::part_from_typed(book, typed.tags.at(1))};
}

void check_two(const Typed& typed, const char* command) {
    if (typed.tags.size() != 2) {
        throw WrongUse(fmt::format("name two parts, for example: stripbook refit {} 417 424", command));
    }
}

void say_before(const Typed& typed, Context& context) {
    check_two(typed, "before");
    auto book = open_book(context, book::Access::write, "refit before");
    const auto tags = two_tags(book, typed);
    book::say_before(book, tags.at(0), tags.at(1), who_says(book, typed.by));
    answer_words(book, words_about(book, book::RefitWordKind::before, tags), false, context);
}

void say_together(const Typed& typed, Context& context) {
    auto book = open_book(context, book::Access::write, "refit together");
    const auto tags = typed_tags(book, typed.tags);
    book::say_together(book, tags, who_says(book, typed.by));
    answer_words(book, words_about(book, book::RefitWordKind::together, tags), false, context);
}

void forget(const Typed& typed, Context& context) {
    check_two(typed, "forget");
    auto book = open_book(context, book::Access::write, "refit forget");
    const auto tags = two_tags(book, typed);
    const auto forgotten = book::forget_words(book, tags.at(0), tags.at(1), who_says(book, typed.by));
    answer_words(book, forgotten, true, context);
}

// What the book had against it. A person's word is kept all the same: the part is on the machine.
std::vector<std::string> remarks_on(const RefitPlan& plan_before, const std::vector<TagNumber>& tags) {
    std::vector<std::string> remarks;
    for (const auto& tag : tags) {
        refit::Turn turn = plan_before.turn_of(tag);
        std::erase_if(turn.waits_for, [&](const TagNumber& other) {
            return std::find(tags.begin(), tags.end(), other) != tags.end();
        });
        std::erase_if(turn.not_ready, [&](const TagNumber& other) { return other != tag; });
        for (const auto& reason : held_up_by(plan_before, turn)) {
            remarks.push_back(fmt::format("{}: {}", plan_before.named(tag), reason));
        }
        if (turn.state == refit::State::left_out) {
            remarks.push_back(fmt::format("{}: its path is scrap; give it another path if it is in use again",
                                          plan_before.named(tag)));
        }
    }
    return remarks;
}

void answer_done(const RefitPlan& plan, const Typed& typed, const std::vector<TagNumber>& tags,
                 const std::vector<std::string>& remarks, Context& context) {
    context.status = remarks.empty() ? done : needs_a_person;
    if (context.json) {
        auto parts = nlohmann::json::array();
        for (const auto& tag : tags) {
            parts.push_back(to_json(plan, plan.turn_of(tag)));
        }
        print_json({{"parts", parts}, {"remarks", remarks}});
        return;
    }
    for (const auto& tag : tags) {
        const auto refitted = plan.refitted.find(tag);
        fmt::print("{} {}\n", plan.named(tag),
                   typed.undo ? "is not in place any more"
                              : fmt::format("is in place (said by {}, {})",
                                            book::printable_name(refitted->second.who), refitted->second.at));
    }
    for (const auto& remark : remarks) {
        fmt::print("    look again: {}\n", remark);
    }
}

void mark_done(const Typed& typed, Context& context) {
    auto book = open_book(context, book::Access::write, "refit done");
    const auto tags = typed_tags(book, typed.tags);
    const auto plan_before = refit_plan(book);
    const auto changed = book::set_refitted(book, tags, !typed.undo, who_says(book, typed.by));
    const auto remarks = typed.undo ? std::vector<std::string>{} : remarks_on(plan_before, changed);
    answer_done(refit_plan(book), typed, tags, remarks, context);
}

}  // namespace

void add_refit_words(CLI::App& refit, Context& context) {
    constexpr const char* tag_help = "tag numbers: PET-00417-D, PET-00417 or 417";
    auto typed = std::make_shared<Typed>();
    auto* before = add_command(refit, context, "before", "say that the first part goes in before the second");
    before->add_option("tag", typed->tags, tag_help);
    before->callback([typed, &context] { say_before(*typed, context); });

    auto* together = add_command(refit, context, "together", "say that parts go in as one step");
    together->add_option("tag", typed->tags, tag_help);
    together->callback([typed, &context] { say_together(*typed, context); });

    auto* forget_command = add_command(refit, context, "forget", "take back what was said about two parts");
    forget_command->add_option("tag", typed->tags, tag_help);
    forget_command->callback([typed, &context] { forget(*typed, context); });

    auto* done_command = add_command(refit, context, "done", "say that parts are back in place");
    done_command->add_option("tag", typed->tags, tag_help)->required();
    done_command->add_flag("--undo", typed->undo, "they are not in place after all");
    done_command->callback([typed, &context] { mark_done(*typed, context); });

    for (auto* command : {before, together, forget_command, done_command}) {
        add_by(*command, typed->by);
    }
}

}  // namespace stripbook::cli
