#pragma once
/// What cannot be true of one piece, whatever is made of it: readings outside the tube, out of order, or at
/// odds with each other. Needs no fitted tube. What merely looks odd is for the survey's own report.
#include "base/problem.hpp"
#include "tube/survey.hpp"

namespace culmwright {

/// All problems, each with the JSON pointer of the tube document. A number that is NaN (a value that could
/// not be read and was reported already) raises none.
/// A whole number that is 0 (the same case) raises none either.
Problems check_survey(const Survey& survey);

}  // namespace culmwright
