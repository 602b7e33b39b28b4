// What goes over the pipe between the pool and one of its workers. Both ends are the same program on the same
// machine, so numbers are sent as they lie in memory.
//   to the worker:  8 bytes length, then that many bytes (the job)
//   to the parent:  one byte AnswerKind, 8 bytes length, then that many bytes (the result, or the message)
#pragma once

#include <cstddef>
#include <cstdint>

namespace stripbook::photo {

enum class AnswerKind : unsigned char { done = 'd', failed = 'f', out_of_memory = 'm' };

using JobLength = std::uint64_t;
using AnswerLength = std::uint64_t;
inline constexpr std::size_t answer_head_bytes = 1 + sizeof(AnswerLength);

}  // namespace stripbook::photo
