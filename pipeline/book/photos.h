// Photos and the cameras that took them.
#pragma once

#include <filesystem>
#include <optional>
#include <string>
#include <vector>

#include "book/book.h"
#include "book/records.h"

namespace stripbook::book {

/// All photos and videos, by number.
std::vector<Photo> all_photos(const Book& book);
std::optional<Photo> find_photo(const Book& book, PhotoNumber number);
std::optional<Photo> photo_of_original(const Book& book, OriginalId original);

/// Photos and videos that the reading station has not looked at, by number.
std::vector<Photo> photos_to_read(const Book& book);

/// Whether their camera took no other photo between the two, by its time and then by photo number.
bool nothing_between(const Book& book, const Photo& first, const Photo& second);

/// Writes what was found; finds or makes the camera (maker, model, serial; without a serial, the card's
/// folder). Without an EXIF time the card's file time stands in, and the photo says so.
void save_photo_facts(Book& book, PhotoNumber number, const PhotoFacts& facts);

/// Where the picture that stands for a video lies, if there is one: derived/posters/p12.jpg
std::filesystem::path poster_file(const Book& book, PhotoNumber video);

/// `p12`, `P12` or `12`. Throws WrongUse when it is no photo number or the book has no such photo.
PhotoNumber photo_from_typed(const Book& book, const std::string& text);

/// A person's word on the stage of a photo; empty takes it back. Throws WrongUse for a word not in
/// stage_words.
void set_stage(Book& book, PhotoNumber number, const std::string& stage, const std::string& who);

}  // namespace stripbook::book
