#include "solid/guarded.hpp"

namespace culmwright {

std::string failure_text(const Standard_Failure& failure) {
  std::string text = failure.DynamicType()->Name();
  const char* message = failure.GetMessageString();
  if (message != nullptr && *message != '\0') text += std::string(": ") + message;
  return text;
}

}  // namespace culmwright
