// A reader that aborts, hangs or grows in the middle of a day's photos.
#include <catch2/catch.hpp>
#include <cstdlib>
#include <cstring>
#include <fstream>
#include <map>
#include <memory>

#include "book/photos.h"
#include "day/read_again.h"
#include "day/read_day.h"
#include "day/reader_version.h"
#include "dump/take_in.h"
#include "scratch_folder.h"

using namespace stripbook;

namespace {

bool is_of(const std::string& job, const std::string& name) {
    return job.find(name) != std::string::npos;
}

std::string failing_work(const std::string& job) {
    if (is_of(job, "AAAA0002")) {
        std::abort();
    }
    if (is_of(job, "AAAA0003")) {
        for (volatile bool forever = true; forever;) {
        }
    }
    if (is_of(job, "AAAA0004")) {
        std::vector<std::unique_ptr<char[]>> held;
        for (;;) {
            held.push_back(std::make_unique<char[]>(std::size_t{64} << 20U));
            std::memset(held.back().get(), 1, std::size_t{64} << 20U);
        }
    }
    return day::answer_to(job);
}

struct BookOfFive {
    BookOfFive()
        : book(book::Book::start(scratch / "book", number::BookCode::from_typed("PET"), "Petrel", "lead")) {
        const auto folder = scratch / "card/DCIM/100AAAAA";
        std::filesystem::create_directories(folder);
        for (int i = 1; i <= 5; ++i) {
            std::ofstream(folder / ("AAAA000" + std::to_string(i) + ".JPG")) << "no picture " << i;
        }
        dump::FileDoor door;
        dump::take_in(book, scratch / "card", {}, door);
    }
    std::map<std::string, std::string> notes() const {
        std::map<std::string, std::string> all;
        for (const auto& photo : book::all_photos(book)) {
            all[photo.name_on_card.substr(14)] = photo.read_note;
        }
        return all;
    }
    test::ScratchFolder scratch;
    book::Book book;
};

day::ReadOptions failing_options() {
    day::ReadOptions options;
    options.work = failing_work;
    options.limits = {2, 8, 200};  // a busy machine must still have time to grow
    return options;
}

}  // namespace

TEST_CASE("A reading that aborts, hangs or grows costs its photo a note, and the run goes on", "[day]") {
    BookOfFive b;
    CHECK(day::read_unread_photos(b.book, failing_options()) == 5);
    const auto notes = b.notes();
    CHECK_THAT(notes.at("AAAA0001.JPG"), Catch::Contains("not a picture this program reads"));
    CHECK_THAT(notes.at("AAAA0002.JPG"), Catch::Contains("could not be read: the reading"));
    CHECK_THAT(notes.at("AAAA0003.JPG"), Catch::Contains("took longer than the 8 s it may take"));
    CHECK_THAT(notes.at("AAAA0004.JPG"), Catch::Contains("needed more memory than the 200 MiB"));
    CHECK_THAT(notes.at("AAAA0005.JPG"), Catch::Contains("not a picture this program reads"));
    for (const auto& photo : book::all_photos(b.book)) {
        CHECK(photo.read_state == book::ReadState::damaged);
        CHECK(photo.read_by == day::reader_version);
    }
    day::link_all(b.book);
}

TEST_CASE("A good earlier reading is not replaced by one that failed", "[day]") {
    BookOfFive b;
    for (const auto& photo : book::all_photos(b.book)) {
        book::PhotoFacts facts;
        facts.width_px = 800;
        facts.read_state = book::ReadState::read;
        book::save_photo_facts(b.book, photo.number, facts);
    }
    const day::Rereading again = day::read_again(b.book, false, failing_options());
    CHECK(again.read == 5);
    CHECK(again.kept.size() == 3);
    CHECK(again.changed.size() == 2);
    int good = 0;
    for (const auto& photo : book::all_photos(b.book)) {
        good += photo.read_state == book::ReadState::read && photo.width_px == 800 ? 1 : 0;
    }
    CHECK(good == 3);
    // What failed is tried again the next time.
    CHECK(day::photos_to_read_again(b.book, false).size() == 3);
}
