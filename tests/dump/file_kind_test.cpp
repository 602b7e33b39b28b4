#include "dump/file_kind.h"

#include <catch2/catch.hpp>
#include <string>

using stripbook::book::FileKind;
using stripbook::dump::kind_by_name;
using stripbook::dump::kind_of_file;
using namespace std::string_literals;

TEST_CASE("a file's kind is told by its extension, in either case") {
    CHECK(kind_by_name("DCIM/100FERRO/FVA_0001.JPG") == FileKind::photo);
    CHECK(kind_by_name("a.b.HeIc") == FileKind::photo);
    CHECK(kind_by_name("x.cr3") == FileKind::photo);
    CHECK(kind_by_name("PRIVATE/CLIP.MTS") == FileKind::video);
    CHECK(kind_by_name("x.3gp") == FileKind::video);
    CHECK(kind_by_name("jpg") == FileKind::other);
    CHECK(kind_by_name("folder.jpg/readme") == FileKind::other);
    CHECK(kind_by_name("parts.csv") == FileKind::other);
}

TEST_CASE("a photo under another name is told by its first bytes") {
    CHECK(kind_of_file("FVA_0001.THM", "\xFF\xD8\xFF\xE1xxxx"s) == FileKind::photo);
    CHECK(kind_of_file("clip.mov", "\xFF\xD8\xFF\xE1xxxx"s) == FileKind::photo);
    CHECK(kind_of_file("noname", "\x89PNG\r\n\x1A\n"s) == FileKind::photo);
    CHECK(kind_of_file("scan.bin", "II*\0\x08\0\0\0"s) == FileKind::photo);
    CHECK(kind_of_file("scan.bin", "MM\0*\0\0\0\x08"s) == FileKind::photo);
    CHECK(kind_of_file("scan.bin", "MM\0+\0\0\0\x08"s) == FileKind::other);
    CHECK(kind_of_file("IMG_0001.BAK",
                       "\0\0\0\x18"
                       "ftypheic"s) == FileKind::photo);
    CHECK(kind_of_file("IMG_0001.BAK",
                       "\0\0\0\x18"
                       "ftypcrx "s) == FileKind::photo);
    CHECK(kind_of_file("IMG_0001.BAK", "FUJIFILMCCD-"s) == FileKind::photo);
    CHECK(kind_of_file("short", "\xFF\xD8"s) == FileKind::other);
    CHECK(kind_of_file("short",
                       "\0\0\0\x18"
                       "ftyphei"s) == FileKind::other);
    CHECK(kind_of_file("empty", "") == FileKind::other);
}

TEST_CASE("a video under another name is told by its first bytes") {
    CHECK(kind_of_file("MVI_0001.BAK",
                       "\0\0\0\x14"
                       "ftypqt  "s) == FileKind::video);
    CHECK(kind_of_file("MVI_0001.BAK",
                       "\0\0\0\x18"
                       "ftypmp42"s) == FileKind::video);
    CHECK(kind_of_file("MVI_0001.BAK",
                       "\0\0\0\x18"
                       "ftyp????"s) == FileKind::other);
}

TEST_CASE("a name that says photo stays a photo whatever it holds") {
    CHECK(kind_of_file("FVA_0001.JPG", "this is text") == FileKind::photo);
    CHECK(kind_of_file("FVA_0002.JPG", "") == FileKind::photo);
}

TEST_CASE("what operating systems leave on a card is neither photo nor video") {
    CHECK(kind_of_file("DCIM/._FVA_0001.JPG", "\0\x05\x16\x07"s) == FileKind::other);
    CHECK(kind_of_file(".Trashes/501/FVA_0001.JPG", "\xFF\xD8\xFF\xE1"s) == FileKind::other);
    CHECK(kind_by_name("System Volume Information/IndexerVolumeGuid.jpg") == FileKind::other);
    CHECK(kind_by_name("DCIM/Thumbs.db") == FileKind::other);
    CHECK(kind_by_name("DCIM/Thumbs.db.jpg") == FileKind::photo);
}
