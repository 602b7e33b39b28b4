// libjpeg-turbo behind a door: its errors come as a result, not as exit(), a message on the terminal or a C++
// exception through C frames.
//
// libjpeg reports a fatal error by a call that must not return. Here it jumps (longjmp) to the function that
// called libjpeg. That is only allowed over frames without destructors, so every function that sets the jump
// holds nothing but plain values, and what needs freeing lies in the session objects, whose destructors run
// later.
#pragma once

#include <csetjmp>
#include <cstdio>  // jpeglib.h needs size_t and FILE

#include <jpeglib.h>

#include <array>
#include <string>
#include <string_view>

namespace stripbook::photo {

/// What libjpeg had to say. `base` must stay first: libjpeg hands back its address.
struct JpegReport {
    jpeg_error_mgr base{};
    std::jmp_buf jump{};
    bool out_of_memory = false;
    bool damaged = false;  ///< a warning about the picture's data came (cut short, bad codes)
};

class JpegReader {
  public:
    explicit JpegReader(std::string_view file_bytes);
    ~JpegReader();
    JpegReader(const JpegReader&) = delete;
    JpegReader& operator=(const JpegReader&) = delete;

    /// Reads up to the first scan. `keep_profile`: also collect the colour profile. False when it is no JPEG
    /// for us.
    bool read_head(bool keep_profile);
    /// The ICC profile of APP2, whole, or empty. After read_head(true).
    std::string profile();

    jpeg_decompress_struct info{};
    JpegReport report;

  private:
    bool read_profile(JOCTET** profile, unsigned* length);

    std::string_view file_bytes_;
    jpeg_progress_mgr progress_{};
};

class JpegWriter {
  public:
    JpegWriter();
    ~JpegWriter();
    JpegWriter(const JpegWriter&) = delete;
    JpegWriter& operator=(const JpegWriter&) = delete;

    /// Makes `info` ready to be set up and to write to `written`. Only where the jump is set: it may fail.
    void open();

    jpeg_compress_struct info{};
    JpegReport report;
    std::string written;

  private:
    static void start(j_compress_ptr info);
    static boolean next_block(j_compress_ptr info);
    static void finish(j_compress_ptr info);
    void take(std::size_t bytes);

    jpeg_destination_mgr destination_{};
    std::array<JOCTET, 1U << 16U> block_{};
};

}  // namespace stripbook::photo
