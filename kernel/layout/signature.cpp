#include "layout/signature.hpp"

#include "base/words.hpp"

namespace culmwright {

std::string sign_heading(const SignMark& mark) {
  return mark.signed_off() ? "SIGNED OFF" : "DRAFT";
}

std::string sign_detail(const SignMark& mark) {
  switch (mark.state) {
    case SignState::draft:
      return "";
    case SignState::signed_off:
      return "by " + mark.by + (mark.date.empty() ? "" : ", " + mark.date);
    case SignState::no_longer_signed:
      break;
  }
  return "no longer signed: " + listed(mark.changed, " and ") + " changed";
}

std::string sign_words(const SignMark& mark) {
  const std::string detail = sign_detail(mark);
  const char* joint = mark.signed_off() ? " " : ", ";
  return sign_heading(mark) + (detail.empty() ? "" : joint + detail);
}

}  // namespace culmwright
