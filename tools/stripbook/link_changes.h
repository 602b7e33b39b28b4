// Which links came and went when the photos were linked anew: for every command that has to say so.
#pragma once

#include <nlohmann/json.hpp>
#include <set>
#include <utility>
#include <vector>

#include "book/book.h"
#include "book/records.h"

namespace stripbook::cli {

using PhotoAndTag = std::pair<book::PhotoNumber, number::TagNumber>;

std::set<PhotoAndTag> links_now(const book::Book& book);

struct LinkChanges {
    std::vector<PhotoAndTag> came;
    std::vector<PhotoAndTag> went;

    [[nodiscard]] std::size_t size() const { return came.size() + went.size(); }
    /// Takes one out that is told in another way. Returns whether it was there.
    bool take_out(const PhotoAndTag& link);
    /// Keeps only those of these photos.
    void keep_only(const std::set<book::PhotoNumber>& photos);
};

LinkChanges link_changes(const std::set<PhotoAndTag>& before, const std::set<PhotoAndTag>& after);

/// "so p18 now belongs to PET-00417-D", a line each.
void print_link_changes(const LinkChanges& changes);

/// A list of photo, tag, belongs.
nlohmann::json to_json(const LinkChanges& changes);

}  // namespace stripbook::cli
