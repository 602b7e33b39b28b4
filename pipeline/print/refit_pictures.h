// The photos of a refit sheet in its PDF, each once, however many parts it shows.
#pragma once

#include <filesystem>
#include <functional>
#include <map>
#include <optional>
#include <string>
#include <vector>

#include "photo/print_copy.h"
#include "print/paper.h"
#include "print/pdf_document.h"
#include "print/refit_sheet_content.h"

namespace stripbook::print {

/// A photo to be shown, and whose it is.
struct SheetPhoto {
    const book::PartPhoto* photo = nullptr;
    const book::Part* of_parent = nullptr;  ///< null: the part's own
};

/// The first as-removed photos of the part, then those of what it was stripped from, in the order they were
/// taken. The pointers live as long as the part.
std::vector<SheetPhoto> photos_to_show(const RefitSheetPart& part);

/// How many as-removed photos `photos_to_show` leaves to the book.
std::size_t photos_left_out(const RefitSheetPart& part);

struct SheetPicture {
    std::optional<HPDF_Image> image;
    double aspect = 1.5;  ///< width over height, upright
    std::string fault;    ///< why there is no image, or why it is not whole
};

/// A copy for paper of each photo.
using CopyMaker =
    std::function<std::map<book::PhotoNumber, photo::PrintCopy>(const std::vector<SheetPhoto>&)>;

/// Copies made in worker processes, at the size that two on a page get.
CopyMaker copies_from_book(const book::Book& book, const Paper& paper, std::function<bool()> stop);

class RefitPictures {
  public:
    RefitPictures(PdfDocument& document, CopyMaker make_copies)
        : document_(document), make_copies_(std::move(make_copies)) {}

    /// Puts the photos into the document that are not there yet.
    void load(const std::vector<SheetPhoto>& photos);
    /// Of a photo that was loaded.
    [[nodiscard]] const SheetPicture& of(const book::PartPhoto& photo) const {
        return pictures_.at(photo.photo.number);
    }

  private:
    PdfDocument& document_;
    CopyMaker make_copies_;
    std::map<book::PhotoNumber, SheetPicture> pictures_;
};

}  // namespace stripbook::print
