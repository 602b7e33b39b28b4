#include "book/cameras.h"

#include <fmt/format.h>

#include <algorithm>

#include "book/history.h"
#include "book/number_text.h"
#include "book/paths.h"
#include "book/photo_rows.h"
#include "book/sql_access.h"
#include "book/utf8.h"
#include "errors.h"

namespace stripbook::book {

namespace {

std::string record_of(CameraId camera) {
    return fmt::format("camera {}", camera.value);
}

// Without a serial number a camera is known by the card's folder.
std::string row_words(Query& row) {
    return camera_words(row.text(2), row.text(3), row.text(4), row.text(5));
}

std::map<std::int64_t, int> photos_by_camera(const Book& book) {
    Query query(book,
                "SELECT coalesce(camera.joined, camera.id), count(*) FROM photo JOIN camera ON camera.id = "
                "photo.camera GROUP BY 1");
    std::map<std::int64_t, int> counts;
    while (query.next()) {
        counts[query.whole(0)] = query.small(1);
    }
    return counts;
}

std::optional<CameraId> joined_to(const Book& book, CameraId camera) {
    Query query(book, "SELECT joined FROM camera WHERE id = ? AND joined IS NOT NULL");
    query.with(camera.value);
    return query.next() ? std::optional(CameraId{query.whole(0)}) : std::nullopt;
}

void set_joined(Book& book, CameraId camera, std::optional<CameraId> into, const std::string& who) {
    const auto before = joined_to(book, camera);
    Query(book, "UPDATE camera SET joined = ? WHERE id = ?")
        .with(into ? std::optional(into->value) : std::nullopt, camera.value)
        .run();
    note_change(book, who, record_of(camera), "is the camera", before ? record_of(*before) : "",
                into ? record_of(*into) : "", "cameras");
}

std::string name_of(const Book& book, CameraId camera) {
    Query query(book, "SELECT name FROM camera WHERE id = ?");
    query.with(camera.value);
    return query.next() ? query.text(0) : "";
}

std::vector<CameraId> cameras_joined_to(const Book& book, CameraId camera) {
    Query query(book, "SELECT id FROM camera WHERE joined = ? ORDER BY id");
    query.with(camera.value);
    std::vector<CameraId> ids;
    while (query.next()) {
        ids.push_back({query.whole(0)});
    }
    return ids;
}

}  // namespace

std::vector<Camera> all_cameras(const Book& book) {
    const auto photos = photos_by_camera(book);
    // The card of a camera's first photo names it where it says nothing of itself.
    Query query(book,
                "SELECT id, name, maker, model, serial, card FROM camera WHERE joined IS NULL ORDER BY id");
    std::vector<Camera> cameras;
    while (query.next()) {
        Camera camera;
        camera.id = {query.whole(0)};
        camera.name = query.text(1);
        camera.maker = query.text(2);
        camera.model = query.text(3);
        camera.serial = query.text(4);
        camera.words = row_words(query);
        const auto count = photos.find(camera.id.value);
        camera.photos = count == photos.end() ? 0 : count->second;
        cameras.push_back(std::move(camera));
    }
    for (Camera& camera : cameras) {
        camera.joined = cameras_joined_to(book, camera.id);
    }
    return cameras;
}

CameraId own_camera_from_typed(const Book& book, const std::string& text) {
    const std::string typed = without_outer_spaces(text);
    const auto number = whole_from(typed);
    Query query(book, number ? "SELECT id FROM camera WHERE id = ?"
                             : "SELECT id FROM camera WHERE name <> '' AND lower(name) = lower(?)");
    number ? query.with(*number) : query.with(typed);
    if (!query.next()) {
        throw WrongUse(fmt::format("the book has no camera {}: stripbook cameras lists them",
                                   number ? typed : "\"" + printable_name(typed) + "\""));
    }
    return {query.whole(0)};
}

CameraId camera_from_typed(const Book& book, const std::string& text) {
    const CameraId own = own_camera_from_typed(book, text);
    return joined_to(book, own).value_or(own);
}

void name_camera(Book& book, CameraId camera, const std::string& name, const std::string& who) {
    check_typed_text(name, "camera's name");
    const std::string clean = without_outer_spaces(name);
    if (clean.find_first_of("\n\t") != std::string::npos) {
        throw WrongUse("a camera's name is one line of text");
    }
    if (whole_from(clean)) {
        throw WrongUse(
            fmt::format("\"{}\" could be a camera's number: give it a name with a letter in it", clean));
    }
    book.together([&] {
        Query other(book, "SELECT id FROM camera WHERE name <> '' AND lower(name) = lower(?) AND id <> ?");
        other.with(clean, camera.value);
        if (other.next()) {
            throw WrongUse(
                fmt::format("camera {} is called \"{}\" already: choose another name, or join the two with "
                            "stripbook cameras join",
                            other.whole(0), printable_name(clean)));
        }
        const std::string before = name_of(book, camera);
        if (before == clean) {
            return;
        }
        Query(book, "UPDATE camera SET name = ? WHERE id = ?").with(clean, camera.value).run();
        note_change(book, who, record_of(camera), "name", before, clean, "cameras name");
    });
}

void join_cameras(Book& book, CameraId one, CameraId into, const std::string& who) {
    book.together([&] {
        const CameraId target = joined_to(book, into).value_or(into);
        if (one == target || joined_to(book, one) == target) {
            throw WrongUse(fmt::format("cameras {} and {} are one already", one.value, into.value));
        }
        for (const CameraId camera : cameras_joined_to(book, one)) {
            set_joined(book, camera, target, who);
        }
        set_joined(book, one, target, who);
    });
}

void split_camera(Book& book, CameraId camera, const std::string& who) {
    book.together([&] {
        if (!joined_to(book, camera)) {
            throw WrongUse(fmt::format("camera {} is not joined to another", camera.value));
        }
        set_joined(book, camera, std::nullopt, who);
    });
}

}  // namespace stripbook::book
