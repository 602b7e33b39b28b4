// Where videos stand among the photos of their card. A video says neither its camera nor a time that can be
// trusted: cameras write local time, universal time or nothing into it. What is sure is that the card's file
// times of videos and photos come from one clock.
#pragma once

#include <map>
#include <string>
#include <vector>

#include "book/records.h"

namespace stripbook::link {

/// Gives each video the one camera whose photos are on its card, and that camera's time: the video's file
/// time and what the camera's time differs from the file times of the photos next to it on the card. That
/// is a time zone, so whole quarters of an hour, and the same before and after the video, to 10 s (cards
/// round to 2 s, and cameras write late: common practice, no source). A video on a card without photos keeps
/// its own. File times are those of the end of the recording.
/// Returns, of the videos that have no place, why: words that complete "no tag in it, and ...".
std::map<book::PhotoNumber, std::string> place_videos(std::vector<book::Photo*> photos);

}  // namespace stripbook::link
