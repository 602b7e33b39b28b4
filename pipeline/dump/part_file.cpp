#include "dump/part_file.h"

#include <stdexcept>
#include <utility>

#include "dump/sha256.h"

namespace stripbook::dump {

PartFile::PartFile(FileDoor& door, std::filesystem::path path) : door_(door), path_(std::move(path)) {
    try {
        sink_ = door_.create(path_);
        exists_ = true;
    } catch (const FileError& error) {
        failure_ = error;
    }
}

PartFile::~PartFile() {
    sink_.reset();
    if (exists_) {
        try {
            door_.remove(path_);
        } catch (const std::exception&) {
            // The next dump sweeps it away; the failure that led here is the one to be told.
            exists_ = false;
        }
    }
}

void PartFile::write(std::string_view bytes) {
    if (failure_) {
        return;
    }
    try {
        sink_->write(bytes);
    } catch (const FileError& error) {
        failure_ = error;
        sink_.reset();
    }
}

bool PartFile::prove(const std::string& sha256, const std::function<void()>& between) {
    if (failure_) {
        return false;
    }
    try {
        sink_->sync_and_close();
    } catch (const FileError& error) {
        failure_ = error;
    }
    sink_.reset();
    if (failure_) {
        return false;
    }
    try {
        const auto source = door_.open_past_cache(path_);
        proved_ = hash_of(*source, [&](std::string_view) { between(); }) == sha256;
    } catch (const FileError&) {
        proved_ = false;  // what cannot be read back is not proved; the copy is tried again
    }
    return proved_;
}

void PartFile::move_to(const std::filesystem::path& place) {
    if (!proved_) {
        throw std::logic_error("a copy that was not proved may not get a name");
    }
    door_.rename(path_, place);
    exists_ = false;
}

std::string hash_of(Source& source, const std::function<void(std::string_view)>& after_chunk) {
    Sha256 sum;
    for (;;) {
        const std::string_view bytes = source.read(chunk_bytes);
        if (bytes.empty()) {
            return sum.hex();
        }
        sum.update(bytes);
        after_chunk(bytes);
    }
}

}  // namespace stripbook::dump
