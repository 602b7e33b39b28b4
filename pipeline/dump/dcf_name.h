// The numbers in a camera's folder and file names. Source of the rules: CIPA DC-009 (DCF): a folder
// DCIM/NNNXXXXX with NNN from 100 to 999, files XXXXNNNN.EXT with NNNN from 0001 to 9999; X is one of 0-9,
// A-Z and "_", in either case.
#pragma once

#include <string>

namespace stripbook::dump {

/// The numbers of a file name relative to the card. `directory` is 0 when the file does not lie directly in a
/// DCF folder; `counter` is 0 then too, and when the file's own name is no DCF name.
void dcf_numbers(const std::string& name, int& directory, int& counter);

}  // namespace stripbook::dump
