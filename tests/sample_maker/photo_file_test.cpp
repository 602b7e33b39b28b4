#include <catch2/catch.hpp>
#include <opencv2/imgcodecs.hpp>

#include "sample_maker/card_folder.h"
#include "sample_maker/command.h"
#include "sample_maker/scene.h"
#include "scratch_folder.h"

using namespace stripbook::sample_maker;
using namespace stripbook::test;

namespace {

Scene small_scene() {
    Scene scene;
    scene.camera = plain_camera({320, 240});
    scene.notes = {"Ferrow", "FV-20", "A10442", "2026:03:20 08:58:15", "07", "+01:00", 20.5, 41, 6};
    scene.noise_sigma = 3;
    return scene;
}

}  // namespace

TEST_CASE("exiv2 reads back what the camera notes", "[sample_maker]") {
    const ScratchFolder folder;
    write_file(folder / "photo.jpg", photo_file_of(small_scene()));
    const auto value = [&](const std::string& key) {
        std::string text = run("exiv2 -q -K " + key + " -Pv " + quoted(folder / "photo.jpg")).output;
        while (!text.empty() && text.back() <= ' ') {
            text.pop_back();
        }
        return text;
    };
    CHECK(value("Exif.Image.Make") == "Ferrow");
    CHECK(value("Exif.Image.Model") == "FV-20");
    CHECK(value("Exif.Photo.BodySerialNumber") == "A10442");
    CHECK(value("Exif.Photo.DateTimeOriginal") == "2026:03:20 08:58:15");
    CHECK(value("Exif.Photo.SubSecTimeOriginal") == "07");
    CHECK(value("Exif.Photo.OffsetTimeOriginal") == "+01:00");
    CHECK(value("Exif.Image.Orientation") == "6");
    CHECK(value("Exif.Photo.FocalLength") == "2050/100");
    CHECK(value("Exif.Photo.FocalLengthIn35mmFilm") == "41");
    CHECK(value("Exif.Photo.PixelXDimension") == "320");
    CHECK(value("Exif.Photo.PixelYDimension") == "240");
}

TEST_CASE("The JPEG holds the picture, in colour or grey, unturned", "[sample_maker]") {
    Scene scene = small_scene();
    scene.jpeg_quality = 98;
    for (const bool colour : {true, false}) {
        scene.colour = colour;
        const std::string bytes = photo_file_of(scene);
        const cv::Mat decoded = cv::imdecode(std::vector<char>(bytes.begin(), bytes.end()),
                                             cv::IMREAD_UNCHANGED | cv::IMREAD_IGNORE_ORIENTATION);
        REQUIRE(decoded.size() == cv::Size(320, 240));
        CHECK(decoded.channels() == (colour ? 3 : 1));
        cv::Mat red;
        cv::extractChannel(decoded, red, colour ? 2 : 0);
        // Red is the full level under warm light; the colours are stored at half the fineness, but are even.
        CHECK(cv::norm(red, picture_of(scene), cv::NORM_L1) / static_cast<double>(red.total()) < 2);
    }
}

TEST_CASE("Same scene, same bytes", "[sample_maker]") {
    CHECK(photo_file_of(small_scene()) == photo_file_of(small_scene()));
}

TEST_CASE("A better quality makes a larger file", "[sample_maker]") {
    Scene scene = small_scene();
    scene.jpeg_quality = 50;
    const std::size_t small = photo_file_of(scene).size();
    scene.jpeg_quality = 95;
    CHECK(photo_file_of(scene).size() > 2 * small);
}
