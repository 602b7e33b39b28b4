// A started book, a card beside it, and what must hold after every dump that ended well.
#pragma once

#include <filesystem>
#include <string>
#include <vector>

#include "book/book.h"
#include "dump/take_in.h"
#include "scratch_folder.h"

namespace stripbook::test {

class BookForTest {
  public:
    BookForTest();

    [[nodiscard]] book::Book open(book::Access access = book::Access::write) const;
    /// Opens the book, takes the card in, closes the book.
    dump::CardResult dump(dump::FileDoor& door,
                          const dump::TakeInOptions& options = options_for_test()) const;
    dump::CardResult dump(const dump::TakeInOptions& options = options_for_test()) const;

    static dump::TakeInOptions options_for_test();
    [[nodiscard]] dump::TakeInOptions with_second() const;

    /// Checks that the book holds exactly the different files of the card, by sha256sum; that nothing is left
    /// over; and that the book agrees with its files and with itself.
    void check_holds_the_card() const;
    void check_second_holds_the_card() const;

    /// Every file that is there under photos/, relative to it, in byte order.
    [[nodiscard]] std::vector<std::string> stored_names() const;

    ScratchFolder folder;
    const std::filesystem::path card = folder / "card";
    const std::filesystem::path book = folder / "book";
    const std::filesystem::path second = folder / "second";
};

}  // namespace stripbook::test
