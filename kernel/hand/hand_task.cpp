#include "hand/hand_task.hpp"

#include <cmath>

namespace culmwright {

namespace {

Vec3 reflected(Vec3 v) {
  return {v.x, -v.y, v.z};
}

/// `v` turned about the unit vector `axis`.
Vec3 turned_about(Vec3 v, Vec3 axis, double angle) {
  const double c = std::cos(angle);
  return v * c + cross(axis, v) * std::sin(angle) + axis * (dot(axis, v) * (1.0 - c));
}

}  // namespace

HandTask mirrored(HandTask task) {
  task.hand = task.hand == Hand::left ? Hand::right : Hand::left;
  for (ReachTask& place : task.places) {
    place.point = reflected(place.point);
    place.normal = reflected(place.normal);
  }
  task.tube.middle = reflected(task.tube.middle);
  task.tube.toward_foot = reflected(task.tube.toward_foot);
  task.front = reflected(task.front);
  task.elbow = reflected(task.elbow);
  return task;
}

ReachTask moved_on_tube(const ReachTask& place, const HandTask& task, double along, double around) {
  const TubeNearHand& tube = task.tube;
  const Vec3 from_middle = place.point - tube.middle;
  const double s = dot(from_middle, tube.toward_foot);
  const Vec3 out = from_middle - tube.toward_foot * s;
  const double radius = length(out);
  // A turn about the way toward the foot takes the front to the player's right.
  const double angle = around / radius;
  const Vec3 axis = tube.toward_foot;
  ReachTask moved = place;
  const Vec3 way = turned_about(out * (1.0 / radius), axis, -angle);
  const double stretched = radius + tube.slope * along;
  moved.point = tube.middle + axis * (s + along) + way * stretched;
  moved.normal = turned_about(place.normal, axis, -angle);
  return moved;
}

}  // namespace culmwright
