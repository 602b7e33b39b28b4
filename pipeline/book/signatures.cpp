#include "book/signatures.h"

#include "book/sql_access.h"

namespace stripbook::book {

void save_signature(Book& book, PhotoNumber photo, const std::string& signature) {
    book.together([&] {
        if (signature.empty()) {
            Query(book, "DELETE FROM photo_signature WHERE photo = ?").with(photo.value).run();
        } else {
            Query(book, "INSERT OR REPLACE INTO photo_signature (photo, bytes) VALUES (?, ?)")
                .with(photo.value, RawBytes{signature})
                .run();
        }
    });
}

std::map<PhotoNumber, std::string> all_signatures(const Book& book) {
    std::map<PhotoNumber, std::string> signatures;
    Query row(book, "SELECT photo, bytes FROM photo_signature");
    while (row.next()) {
        signatures[{row.whole(0)}] = row.text(1);
    }
    return signatures;
}

}  // namespace stripbook::book
