// Which photo belongs to which part: the simple rule, with its reasons.
//
//   A photo with confirmed tags of this book belongs to each of their parts. A photo without a tag belongs to
//   the part of the last tag shot of the same camera when it follows, in capture order, within the link time
//   after the previous photo of that run. Anything else needs a person: a tag that is not confirmed or of
//   another book, and the untagged photos after it; more than three never-seen numbers in one photo (a sheet
//   of new tags); an untagged photo after one of several parts, too late, or with nothing before it. A
//   person's word comes first and starts or ends runs like a tag. Videos are photos in all this; their place
//   among the photos of their card is found first (video_place.h), and one without a place stands alone.
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
};

struct Rules {
    double link_time_s = 180;
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
