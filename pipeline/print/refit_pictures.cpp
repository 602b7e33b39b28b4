#include "print/refit_pictures.h"

#include <algorithm>
#include <utility>

#include "print/photo_choice.h"
#include "print/photo_copies.h"

namespace stripbook::print {

namespace {

// Two pages of its own photos and one of its parent's: more is leafed through in the book.
constexpr std::size_t most_own = 4;
constexpr std::size_t most_of_parent = 2;

void add_first(std::vector<SheetPhoto>& photos, const book::PartFile& file, std::size_t most,
               bool is_parent) {
    const auto sorted = sorted_photos(file);
    for (std::size_t i = 0; i < std::min(most, sorted.large.size()); ++i) {
        const bool shown = std::any_of(photos.begin(), photos.end(), [&](const SheetPhoto& p) {
            return p.photo->photo.number == sorted.large[i]->photo.number;
        });
        if (!shown) {
            photos.push_back({sorted.large[i], is_parent ? &file.part : nullptr});
        }
    }
}

SheetPicture picture_of(PdfDocument& document, const photo::PrintCopy& copy, int orientation) {
    SheetPicture picture;
    picture.fault = copy.fault;
    if (!copy.jpeg.empty() && copy.width_px > 0 && copy.height_px > 0) {
        picture.image = document.add_jpeg(copy.jpeg);
        picture.aspect = static_cast<double>(copy.width_px) / copy.height_px;
        if (orientation >= 5 && orientation <= 8) {
            picture.aspect = 1 / picture.aspect;
        }
    }
    if (!picture.image && picture.fault.empty()) {
        picture.fault = "it does not decode";
    }
    return picture;
}

}  // namespace

std::vector<SheetPhoto> photos_to_show(const RefitSheetPart& part) {
    std::vector<SheetPhoto> photos;
    add_first(photos, part.file, most_own, false);
    if (part.parent) {
        add_first(photos, *part.parent, most_of_parent, true);
    }
    return photos;
}

std::size_t photos_left_out(const RefitSheetPart& part) {
    const std::size_t own = sorted_photos(part.file).large.size();
    return own - std::min(own, most_own);
}

CopyMaker copies_from_book(const book::Book& book, const Paper& paper, std::function<bool()> stop) {
    return [&book, paper, stop = std::move(stop)](const std::vector<SheetPhoto>& photos) {
        if (photos.empty()) {
            return std::map<book::PhotoNumber, photo::PrintCopy>{};
        }
        book::PartFile all(book::Part(photos.front().photo->link.tag));
        for (const auto& photo : photos) {
            all.photos.push_back(*photo.photo);
            all.photos.back().stage = book::stage_words[0];  // all get the size of large photos
        }
        return copies_for_paper(book, all, paper, good_dots_per_inch, stop);
    };
}

void RefitPictures::load(const std::vector<SheetPhoto>& photos) {
    std::vector<SheetPhoto> fresh;
    for (const auto& photo : photos) {
        if (!pictures_.contains(photo.photo->photo.number)) {
            fresh.push_back(photo);
        }
    }
    const auto copies = make_copies_(fresh);
    for (const auto& photo : fresh) {
        const auto copy = copies.find(photo.photo->photo.number);
        pictures_[photo.photo->photo.number] =
            picture_of(document_, copy == copies.end() ? photo::PrintCopy{} : copy->second,
                       photo.photo->photo.orientation);
    }
}

}  // namespace stripbook::print
