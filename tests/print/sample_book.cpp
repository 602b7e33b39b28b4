#include "print/sample_book.h"

#include "book/links.h"
#include "book/originals.h"
#include "book/parts.h"
#include "book/paths.h"
#include "book/photos.h"
#include "print/outside_tools.h"

namespace stripbook::test {

BookWithPhotos::BookWithPhotos()
    : book_(book::Book::start(folder / "Petrel", sample_part().tag.book(), "Petrel, inspection railcar",
                              "Ana")) {
    book::save_part(book_, sample_part(), "Ana", "test");
    dump_ = book::begin_dump(book_, "card", "Ana");
}

void BookWithPhotos::add_part(const book::Part& part) {
    book::save_part(book_, part, "Ana", "test");
}

std::filesystem::path BookWithPhotos::add_photo(const std::string& bytes, int orientation) {
    return add_photo(bytes, orientation, sample_part().tag);
}

std::filesystem::path BookWithPhotos::add_photo(const std::string& bytes, int orientation,
                                                const number::TagNumber& tag) {
    const std::string name = "DCIM/101FERRO/FVA_" + std::to_string(1000 + ++count_) + ".JPG";
    const std::string stored = book::dump_folder(dump_.value) + "/" + name;
    const auto file = book_.folder() / stored;
    std::filesystem::create_directories(file.parent_path());
    write_file(file, bytes);
    std::string sum = std::to_string(count_);
    sum.insert(0, 64 - sum.size(), 'a');
    const auto original =
        book::add_original(book_, dump_, {name, bytes.size(), 1773997095.0 + count_, 101, 1000 + count_}, sum,
                           book::FileKind::photo, stored);
    const auto number = book::photo_of_original(book_, original.id)->number;
    book::PhotoFacts facts;
    facts.maker = "Ferrow";
    facts.model = "FV-20";
    facts.orientation = orientation;
    book::save_photo_facts(book_, number, facts);
    book::link_by_person(book_, number, tag, "Ana");
    return file;
}

std::string photo_bytes(int width, int height) {
    return jpeg_of(asymmetric_picture(width, height));
}

}  // namespace stripbook::test
