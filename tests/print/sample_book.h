// A job book with parts of the railcar Petrel and photos of them, whose stored files are what the test
// writes.
#pragma once

#include <filesystem>
#include <string>

#include "book/book.h"
#include "book/records.h"
#include "print/sample_part.h"
#include "scratch_folder.h"

namespace stripbook::test {

class BookWithPhotos {
  public:
    /// With one part, sample_part.
    BookWithPhotos();

    void add_part(const book::Part& part);

    /// Takes `bytes` in as the next photo, p1, p2, ..., linked to a part by a person; returns its stored
    /// file.
    std::filesystem::path add_photo(const std::string& bytes, int orientation = 1);
    std::filesystem::path add_photo(const std::string& bytes, int orientation, const number::TagNumber& tag);

    [[nodiscard]] book::Book& book() { return book_; }

    ScratchFolder folder;
    std::filesystem::path pdf = folder / "report.pdf";

  private:
    book::Book book_;
    book::DumpId dump_;
    int count_ = 0;
};

/// A JPEG of asymmetric_picture.
std::string photo_bytes(int width, int height);

}  // namespace stripbook::test
