// Made tags of random numbers, poses, papers and backgrounds; the numbers they must say are those drawn. The
// least counts are what was read when the test was written, less a few.
#include "tag/read_picture.h"

#include <time.h>

#include <algorithm>
#include <catch2/catch.hpp>
#include <functional>
#include <opencv2/imgcodecs.hpp>
#include <opencv2/imgproc.hpp>

#include "bench/made_tag.h"
#include "sample_maker/modules.h"

using namespace stripbook;
using bench::TagWish;
using number::BookCode;

namespace {

const BookCode pet = BookCode::from_typed("PET");

cv::Mat grey_of(const std::string& file) {
    const cv::Mat bytes(1, static_cast<int>(file.size()), CV_8U, const_cast<char*>(file.data()));
    return cv::imdecode(bytes, cv::IMREAD_GRAYSCALE);
}

struct Count {
    int right = 0;
    int wrong = 0;
};

Count read_made(const TagWish& wish, int tags, const BookCode& book, std::uint64_t first_seed) {
    Count count;
    for (int i = 0; i < tags; ++i) {
        const auto made = bench::made_tag(wish, book, first_seed + static_cast<std::uint64_t>(i));
        for (const auto& seen : tag::read_picture(grey_of(bench::file_of(made.scene)), pet).tags.tags) {
            if (seen.number) {
                ++(*seen.number == made.number ? count.right : count.wrong);
            }
        }
    }
    return count;
}

double processor_ms(const std::function<void()>& work) {
    timespec before{};
    timespec after{};
    clock_gettime(CLOCK_THREAD_CPUTIME_ID, &before);
    work();
    clock_gettime(CLOCK_THREAD_CPUTIME_ID, &after);
    return 1e3 * static_cast<double>(after.tv_sec - before.tv_sec) +
           1e-6 * static_cast<double>(after.tv_nsec - before.tv_nsec);
}

}  // namespace

TEST_CASE("Far tags are read: a fiducial module of 1.2 pixels and more", "[tag]") {
    TagWish wish;
    wish.size_px = {400, 320};
    for (const auto& [px_per_mm, least] : {std::pair{0.6, 17}, {0.8, 20}, {1.0, 20}}) {
        wish.px_per_mm = px_per_mm;
        const Count count = read_made(wish, 20, pet, 100);
        CHECK(count.right >= least);
        CHECK(count.wrong == 0);
    }
}

TEST_CASE("Dirty, covered, shaken and badly exposed tags are read", "[tag]") {
    struct Case {
        const char* name;
        double TagWish::*knob;
        double value;
        int least;  // of 12
    };
    const std::vector<Case> cases{{"grime", &TagWish::grime, 0.1, 10},     {"grime", &TagWish::grime, 0.2, 6},
                                  {"covered", &TagWish::covered, 0.2, 10}, {"glare", &TagWish::glare, 1, 10},
                                  {"shake", &TagWish::shake_px, 7, 11},    {"dark", &TagWish::gain, 0.1, 10},
                                  {"bright", &TagWish::gain, 3, 11}};
    for (const auto& c : cases) {
        TagWish wish;
        wish.size_px = {500, 400};
        wish.*c.knob = c.value;
        const Count count = read_made(wish, 12, pet, 300);
        INFO(c.name << " " << c.value);
        CHECK(count.right >= c.least);
        CHECK(count.wrong == 0);
    }
}

TEST_CASE("Worn tags of another book never say a number of this one", "[tag]") {
    TagWish wish;
    wish.size_px = {400, 320};
    wish.px_per_mm = 1.2;
    wish.covered = 0.25;
    const Count count = read_made(wish, 25, BookCode::from_typed("OAK"), 700);
    CHECK(count.wrong == 0);
}

TEST_CASE("No number is read where no tag is: dark squares, false tags, foreign codes", "[tag]") {
    for (std::uint64_t seed = 1; seed <= 25; ++seed) {
        const cv::Mat grey = grey_of(bench::file_of(bench::made_clutter({640, 480}, seed)));
        for (const auto& seen : tag::read_picture(grey, pet).tags.tags) {
            CHECK_FALSE(seen.number);
        }
    }
}

TEST_CASE("A QR code alone in a large picture is read, small or large", "[tag]") {
    const auto modules = sample_maker::qr_modules("TIME 2026-03-20T08:58:15Z", sample_maker::QrLevel::medium);
    for (const int module_px : {3, 9}) {
        cv::Mat picture(2200, 3000, CV_8UC1, cv::Scalar(140));
        const int side = (modules.cols + 8) * module_px;
        cv::Mat code(modules.rows + 8, modules.cols + 8, CV_8UC1, cv::Scalar(220));
        cv::Mat printed = code(cv::Rect(4, 4, modules.cols, modules.rows));
        printed.setTo(35, modules);
        cv::resize(code, code, {side, side}, 0, 0, cv::INTER_NEAREST);
        code.copyTo(picture(cv::Rect(1701, 903, side, side)));
        cv::GaussianBlur(picture, picture, {}, 0.6);
        const auto reading = tag::read_picture(picture, pet).tags;
        REQUIRE(reading.other_codes.size() == 1);
        CHECK(reading.other_codes[0].text == "TIME 2026-03-20T08:58:15Z");
        CHECK(reading.other_codes[0].centre().x == Approx(1701 + side / 2.0).margin(6));
        CHECK(reading.other_codes[0].centre().y == Approx(903 + side / 2.0).margin(6));
    }
}

TEST_CASE("A whole reading takes no more than a few times one library's search for QR codes", "[tag]") {
    // 1.1 times on photographs of eight megapixels when written; the margin is for other machines.
    const cv::Mat grey =
        cv::imread("sample_images/card-fv20/DCIM/102FERRO/FVA_0002.JPG", cv::IMREAD_GRAYSCALE);
    REQUIRE_FALSE(grey.empty());
    tag::read_picture(grey, pet);  // makes the tables
    const double ours = processor_ms([&] { tag::read_picture(grey, pet); });
    const double codes_only = processor_ms([&] { tag::read_qr_codes(grey); });
    CHECK(ours < 4 * codes_only);
}
