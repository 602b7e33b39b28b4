#include "link_changes.h"

#include <fmt/format.h>

#include <algorithm>
#include <iterator>

#include "book/links.h"

namespace stripbook::cli {

std::set<PhotoAndTag> links_now(const book::Book& book) {
    std::set<PhotoAndTag> links;
    for (const auto& link : book::all_links(book)) {
        links.emplace(link.photo, link.tag);
    }
    return links;
}

bool LinkChanges::take_out(const PhotoAndTag& link) {
    return std::erase(came, link) + std::erase(went, link) > 0;
}

void LinkChanges::keep_only(const std::set<book::PhotoNumber>& photos) {
    const auto of_others = [&](const PhotoAndTag& link) { return photos.count(link.first) == 0; };
    std::erase_if(came, of_others);
    std::erase_if(went, of_others);
}

LinkChanges link_changes(const std::set<PhotoAndTag>& before, const std::set<PhotoAndTag>& after) {
    LinkChanges changes;
    std::set_difference(after.begin(), after.end(), before.begin(), before.end(),
                        std::back_inserter(changes.came));
    std::set_difference(before.begin(), before.end(), after.begin(), after.end(),
                        std::back_inserter(changes.went));
    return changes;
}

void print_link_changes(const LinkChanges& changes) {
    for (const auto& [photo, tag] : changes.came) {
        fmt::print("so {} now belongs to {}\n", photo.text(), tag.text());
    }
    for (const auto& [photo, tag] : changes.went) {
        fmt::print("so {} no longer belongs to {}\n", photo.text(), tag.text());
    }
}

nlohmann::json to_json(const LinkChanges& changes) {
    auto list = nlohmann::json::array();
    const auto add = [&](const std::vector<PhotoAndTag>& links, bool belongs) {
        for (const auto& [photo, tag] : links) {
            list.push_back({{"photo", photo.text()}, {"tag", tag.text()}, {"belongs", belongs}});
        }
    };
    add(changes.came, true);
    add(changes.went, false);
    return list;
}

}  // namespace stripbook::cli
