#include "book/wanted.h"

#include <fmt/format.h>

#include <algorithm>
#include <utility>

#include "book/parts.h"
#include "errors.h"

namespace stripbook::book {

namespace {

WantedPart gathered(const Book& book, Part part) {
    WantedPart wanted(std::move(part));
    wanted.path = path_of(book, wanted.part.tag);
    for (auto& work : works_of(book, wanted.part.tag)) {
        if (work.is_open()) {
            wanted.open_works.push_back(std::move(work));
        }
    }
    wanted.quantity = std::max(1, wanted.part.quantity_expected.value_or(1));
    return wanted;
}

bool is_still_wanted(const WantedPart& wanted) {
    if (!wanted.path.received_on.empty()) {
        return false;
    }
    return wanted.part.path != "repair" || !wanted.path.from_whom.empty() || !wanted.open_works.empty();
}

}  // namespace

bool can_be_wanted(const Part& part) {
    return part.path == "buy" || part.path == "make" || part.path == "repair";
}

WantedPart wanted_part(const Book& book, const number::TagNumber& tag) {
    auto part = find_part(book, tag);
    if (!part) {
        throw WrongUse(fmt::format("the book has no part {}", tag.text()));
    }
    if (!can_be_wanted(*part)) {
        throw WrongUse(fmt::format(
            "{} has the path \"{}\"; sheets are for parts to buy, make or repair: see stripbook path {}",
            tag.text(), part->path, tag.serial()));
    }
    return gathered(book, *std::move(part));
}

std::vector<WantedPart> wanted_parts(const Book& book) {
    std::vector<WantedPart> wanted;
    for (auto& part : all_parts(book)) {
        if (can_be_wanted(part)) {
            wanted.push_back(gathered(book, std::move(part)));
        }
    }
    std::erase_if(wanted, [](const WantedPart& one) { return !is_still_wanted(one); });
    std::sort(wanted.begin(), wanted.end(),
              [](const WantedPart& a, const WantedPart& b) { return a.part.tag < b.part.tag; });
    return wanted;
}

}  // namespace stripbook::book
