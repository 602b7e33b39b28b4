// Which photo belongs to which part. A person's word (a link, or a refusal) is kept apart from the program's
// links and is never touched by replace_program_links.
#pragma once

#include <vector>

#include "book/book.h"
#include "book/records.h"

namespace stripbook::book {

/// The links that hold: a person's, and the program's where no person refused them. By photo, then tag.
std::vector<Link> all_links(const Book& book);
std::vector<Link> links_of(const Book& book, const number::TagNumber& tag);
std::vector<Refusal> all_refusals(const Book& book);
std::vector<Unsettled> all_unsettled(const Book& book);

/// Replaces all links that the program made, and all unsettled photos. Links a person made or refused stay.
/// Every part named must exist (BookError). A program link that appears or goes is a history entry of its
/// photo.
void replace_program_links(Book& book, const std::vector<Link>& links,
                           const std::vector<Unsettled>& unsettled);

/// A person's word that the photo belongs to the part (takes back a refusal, and that it belongs to none).
/// Throws WrongUse when the part is unknown.
void link_by_person(Book& book, PhotoNumber photo, const number::TagNumber& tag, const std::string& who);
/// A person's word that it does not (takes back a person's link).
void unlink_by_person(Book& book, PhotoNumber photo, const number::TagNumber& tag, const std::string& who);
/// Takes back a person's word that the photo belongs to the part, without saying that it does not.
void take_back_link(Book& book, PhotoNumber photo, const number::TagNumber& tag, const std::string& who);

}  // namespace stripbook::book
