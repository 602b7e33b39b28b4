// Which photo belongs to which part, for a whole book at once, with the chance and the reason of each link.
//
//   The model (day_model.h, docs/linking.md) weighs the tags in view, the gaps, each camera's habit, how
//   alike neighbours look and what other cameras are at. A link is made from a chance of `link_from` on;
//   below it the photo is left to a person, with the likeliest parts. Whatever the chances: a person's word
//   holds and informs its neighbours; a photo with a tag of another book or a tag not read, one that does not
//   decode, a video nobody looked at, and more than three never-seen numbers in one photo (a sheet of new
//   tags) need a person; and across a pause no photo follows a tag unless a tag of the same part stands
//   behind it, too. Videos are photos in all this; their place among the photos of their card is found first
//   (video_place.h), and one without a place stands alone.
#pragma once

#include <set>
#include <string>
#include <vector>

#include "book/records.h"
#include "number/tag_number.h"

namespace stripbook::link {

struct PhotoSightings {
    book::Photo photo;
    std::vector<book::Sighting> sightings;
    std::vector<number::TagNumber> linked_by_person;
    std::vector<number::TagNumber> refused_by_person;
    std::string signature{};  ///< how the photo looks (likeness.h); empty: not known
};

struct Rules {
    /// What the gaps of a day are judged by before the day itself has shown them: inside a run most are a
    /// sixth of it. Five times it is a pause.
    double link_time_s = 180;
    /// The chance from which on a link is made.
    double link_from = 0.9;
    /// Numbers of part records that exist already. Others are never-seen.
    std::set<number::TagNumber> known;
    /// Numbers that count as known for fiducials alone: the parts list, the print runs, and what a QR code
    /// has confirmed. Empty: the book has neither yet, and three agreeing fiducials are enough.
    std::set<number::TagNumber> known_to_fiducials;
    std::size_t most_new_in_one_photo = 3;
};

struct Assignment {
    std::vector<book::Link> links;  ///< the program's; never a person's, never a refused one
    std::vector<book::Unsettled> unsettled;
    std::vector<number::TagNumber>
        new_tags;  ///< numbers for which part records are to be made, in photo order
    std::vector<book::PhotoNumber> seen_first_in;  ///< the photo of each new tag
    int other_book_tags = 0;                       ///< sightings of tags of other books
};

/// `photos`: the whole book's photos and videos in any order, of one book `here`.
Assignment assign(const std::vector<PhotoSightings>& photos, const number::BookCode& here,
                  const Rules& rules);

}  // namespace stripbook::link
