// The cameras of the book: what a person calls them, which are one, what is known of their clocks, and the
// true times of the photos that follow from it.
#pragma once

#include <map>
#include <optional>
#include <string>
#include <vector>

#include "book/book.h"
#include "book/records.h"

namespace stripbook::book {

struct Camera {
    CameraId id;
    std::string name;  ///< a person's; may be empty
    std::string maker, model, serial;
    std::string words;             ///< "Ferrow FV-20 A10442", or the card where it says nothing
    int photos = 0;                ///< of it and of those joined to it
    std::vector<CameraId> joined;  ///< other ids that are this camera
};

/// Cameras by number, those that were joined to another within it.
std::vector<Camera> all_cameras(const Book& book);

/// `2`, or a name in any case. The camera that one is joined to stands for it. Throws WrongUse when there is
/// none.
CameraId camera_from_typed(const Book& book, const std::string& text);

/// The same, but a camera that was joined to another stays itself.
CameraId own_camera_from_typed(const Book& book, const std::string& text);

/// Empty takes the name back. Throws WrongUse when another camera has it, or it could be a camera's number.
void name_camera(Book& book, CameraId camera, const std::string& name, const std::string& who);

/// `one` is the camera `into`: its photos, and those of cameras joined to it, count as that one's. Nothing is
/// lost: split_camera takes it back. Throws WrongUse when they are one already.
void join_cameras(Book& book, CameraId one, CameraId into, const std::string& who);

/// Throws WrongUse when the camera is not joined to another.
void split_camera(Book& book, CameraId camera, const std::string& who);

/// A person's word on a clock.
struct ClockWord {
    std::int64_t id = 0;
    CameraId camera;
    double ahead_s = 0;  ///< of the right time in the workshop; below 0: behind
    double u_s = 1;
    PhotoNumber photo;  ///< when: as this photo was taken
    std::string who;
    std::string said_at;  ///< UTC, RFC 3339
};

/// "7:03 ahead, give or take 0:01".
std::string words_of(const ClockWord& word);

/// Keeps the word; an earlier one at the same photo gives way. Throws WrongUse when the photo is not the
/// camera's.
void say_clock(Book& book, const ClockWord& word);

/// Takes back all that was said of the camera's clock. Returns how many words.
int take_back_clock_words(Book& book, CameraId camera, const std::string& who);

/// Those that hold, oldest first, under the camera that theirs is joined to.
std::vector<ClockWord> clock_words(const Book& book);

/// A stretch of photos over which a clock ran undisturbed.
struct ClockPiece {
    CameraId camera;
    int number = 1;                       ///< running in the camera
    PhotoNumber first_photo, last_photo;  ///< in capture order
    std::string began;                    ///< why it begins here; empty: the first photo
    std::optional<double> ahead_s;        ///< at its last photo; empty: not known
    std::optional<double> u_s;
    std::optional<double> drift_s_per_day;  ///< only where it was measured
    std::string how;
    bool operator==(const ClockPiece&) const = default;
};

std::vector<ClockPiece> clock_pieces(const Book& book);

/// "7:03 ahead, give or take 0:01", "not known".
std::string words_of(const ClockPiece& piece);

/// When a photo was taken.
struct TrueTime {
    PhotoNumber photo;
    double corrected_s = 0;       ///< Photo::corrected_seconds
    std::optional<double> utc_s;  ///< empty: not known
    std::optional<double> u_s;
    std::string how;
    bool operator==(const TrueTime&) const = default;
};

/// Makes the book hold these and no others; writes only what differs. A clock that is now known otherwise
/// goes into the camera's history. Returns how many photos have another time than before.
std::size_t replace_clocks(Book& book, const std::vector<ClockPiece>& pieces,
                           const std::vector<TrueTime>& times, const std::string& who);

/// "7:03", "1:00:00", "3 d 2:00:00" of seconds, without sign.
std::string time_span_words(double seconds);

/// "7:03" (minutes and seconds), "1:00:00", "90 s": seconds; nothing when it is none of these.
std::optional<double> time_span_from(const std::string& text);

}  // namespace stripbook::book
