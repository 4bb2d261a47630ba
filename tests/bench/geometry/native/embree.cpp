// The same questions to Embree, one thread: a point query a point, its radius shrinking. Reads positions, indices and points (float32,
// uint32, float32; millimetres) from a folder and prints a line an answer: name, CPU milliseconds (least of three), what was found.
#include <embree3/rtcore.h>

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <cstdio>
#include <cstdlib>
#include <ctime>
#include <functional>
#include <limits>
#include <string>
#include <vector>

template <class T>
static std::vector<T> load(const std::string& path) {
  FILE* file = std::fopen(path.c_str(), "rb");
  if (!file) std::exit(1);
  std::fseek(file, 0, SEEK_END);
  std::vector<T> all(std::ftell(file) / sizeof(T));
  std::rewind(file);
  if (std::fread(all.data(), sizeof(T), all.size(), file) != all.size()) std::exit(1);
  std::fclose(file);
  return all;
}

static double cpu() {
  timespec now;
  clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &now);
  return now.tv_sec * 1e3 + now.tv_nsec / 1e6;
}

struct V {
  float x, y, z;
};
static V operator-(V a, V b) { return {a.x - b.x, a.y - b.y, a.z - b.z}; }
static V operator+(V a, V b) { return {a.x + b.x, a.y + b.y, a.z + b.z}; }
static V operator*(float s, V a) { return {s * a.x, s * a.y, s * a.z}; }
static float dot(V a, V b) { return a.x * b.x + a.y * b.y + a.z * b.z; }

// By regions, as in Ericson, Real-Time Collision Detection, 2005 (memory); fast, and in single precision not exact on slivers.
static float toTriangle(V p, V a, V b, V c) {
  V ab = b - a, ac = c - a, ap = p - a;
  float d1 = dot(ab, ap), d2 = dot(ac, ap);
  if (d1 <= 0 && d2 <= 0) return dot(ap, ap);
  V bp = p - b;
  float d3 = dot(ab, bp), d4 = dot(ac, bp);
  if (d3 >= 0 && d4 <= d3) return dot(bp, bp);
  V cp = p - c;
  float d5 = dot(ab, cp), d6 = dot(ac, cp);
  if (d6 >= 0 && d5 <= d6) return dot(cp, cp);
  float vc = d1 * d4 - d3 * d2, vb = d5 * d2 - d1 * d6, va = d3 * d6 - d5 * d4;
  V off;
  if (vc <= 0 && d1 >= 0 && d3 <= 0)
    off = ap - d1 / (d1 - d3) * ab;
  else if (vb <= 0 && d2 >= 0 && d6 <= 0)
    off = ap - d2 / (d2 - d6) * ac;
  else if (va <= 0 && d4 - d3 >= 0 && d5 - d6 >= 0)
    off = bp - (d4 - d3) / ((d4 - d3) + (d5 - d6)) * (c - b);
  else
    off = ap - (vb / (va + vb + vc) * ab + vc / (va + vb + vc) * ac);
  return dot(off, off);
}

struct Mesh {
  std::vector<float> positions;
  std::vector<uint32_t> indices;
  V corner(uint32_t triangle, int k) const {
    const float* at = &positions[3 * indices[3 * triangle + k]];
    return {at[0], at[1], at[2]};
  }
};

static bool nearer(RTCPointQueryFunctionArguments* asked) {
  const Mesh& mesh = *static_cast<const Mesh*>(asked->userPtr);
  V p{asked->query->x, asked->query->y, asked->query->z};
  uint32_t t = asked->primID;
  float away = std::sqrt(toTriangle(p, mesh.corner(t, 0), mesh.corner(t, 1), mesh.corner(t, 2)));
  if (away >= asked->query->radius) return false;
  asked->query->radius = away;
  return true;
}

static RTCScene sceneOf(RTCDevice device, const Mesh& mesh) {
  RTCScene scene = rtcNewScene(device);
  rtcSetSceneBuildQuality(scene, RTC_BUILD_QUALITY_HIGH);
  RTCGeometry geometry = rtcNewGeometry(device, RTC_GEOMETRY_TYPE_TRIANGLE);
  rtcSetSharedGeometryBuffer(geometry, RTC_BUFFER_TYPE_VERTEX, 0, RTC_FORMAT_FLOAT3, mesh.positions.data(), 0, 12,
                             mesh.positions.size() / 3 - 1);
  rtcSetSharedGeometryBuffer(geometry, RTC_BUFFER_TYPE_INDEX, 0, RTC_FORMAT_UINT3, mesh.indices.data(), 0, 12,
                             mesh.indices.size() / 3);
  rtcCommitGeometry(geometry);
  rtcAttachGeometry(scene, geometry);
  rtcReleaseGeometry(geometry);
  rtcCommitScene(scene);
  return scene;
}

// Neighbours one after the other (Morton order): it is given the order it runs best in, outside of the time.
static std::vector<V> inOrder(const std::vector<float>& points) {
  float low[3] = {1e30f, 1e30f, 1e30f}, extent = 0;
  for (size_t i = 0; i < points.size(); i++) low[i % 3] = std::min(low[i % 3], points[i]);
  for (size_t i = 0; i < points.size(); i++) extent = std::max(extent, points[i] - low[i % 3]);
  std::vector<std::pair<uint32_t, uint32_t>> keys(points.size() / 3);
  for (uint32_t i = 0; i < keys.size(); i++) {
    uint32_t key = 0;
    for (int k = 0; k < 3; k++) {
      uint32_t cell = uint32_t((points[3 * i + k] - low[k]) / extent * 1023.9f);
      for (int bit = 0; bit < 10; bit++) key |= (cell >> bit & 1u) << (3 * bit + k);
    }
    keys[i] = {key, i};
  }
  std::sort(keys.begin(), keys.end());
  std::vector<V> ordered;
  for (auto& key : keys) ordered.push_back({points[3 * key.second], points[3 * key.second + 1], points[3 * key.second + 2]});
  return ordered;
}

static float query(RTCScene scene, const Mesh& mesh, V p, float radius) {
  RTCPointQuery asked{p.x, p.y, p.z, 0, radius};
  RTCPointQueryContext context;
  rtcInitPointQueryContext(&context);
  rtcPointQuery(scene, &asked, &context, nearer, const_cast<Mesh*>(&mesh));
  return asked.radius;
}

// From the middle of a triangle square into it, at most 10 mm; 0 where nothing is met.
static float across(RTCScene scene, const Mesh& mesh, uint32_t t) {
  V a = mesh.corner(t, 0), u = mesh.corner(t, 1) - a, w = mesh.corner(t, 2) - a;
  V n{u.y * w.z - u.z * w.y, u.z * w.x - u.x * w.z, u.x * w.y - u.y * w.x};
  float length = std::sqrt(dot(n, n));
  if (!(length > 0)) return 0;
  V from = a + (1.0f / 3) * (u + w), along = (-1 / length) * n;
  RTCRayHit ray{};
  ray.ray = {from.x, from.y, from.z, 1e-3f, along.x, along.y, along.z, 0, 10, 0xffffffffu, 0, 0};
  ray.hit.geomID = RTC_INVALID_GEOMETRY_ID;
  RTCIntersectContext context;
  rtcInitIntersectContext(&context);
  rtcIntersect1(scene, &context, &ray);
  return ray.hit.geomID == RTC_INVALID_GEOMETRY_ID ? 0 : ray.ray.tfar;
}

static void least(const char* name, const std::function<double()>& work) {
  double best = std::numeric_limits<double>::infinity(), found = 0;
  for (int run = 0; run < 3; run++) {
    double before = cpu();
    found = work();
    best = std::min(best, cpu() - before);
  }
  std::printf("%s\t%.3f\t%.5f\n", name, best, found);
}

int main(int, char** given) {
  std::string folder = given[1];
  Mesh mesh{load<float>(folder + "/positions"), load<uint32_t>(folder + "/indices")};
  std::vector<V> points = inOrder(load<float>(folder + "/points"));
  mesh.positions.resize(mesh.positions.size() + 3);  // Embree reads sixteen bytes a vertex.
  RTCDevice device = rtcNewDevice("threads=1");
  RTCScene scene = nullptr;
  least("tree", [&] {
    if (scene) rtcReleaseScene(scene);
    scene = sceneOf(device, mesh);
    return double(mesh.indices.size() / 3);
  });
  least("smallest distance", [&] {
    float best = 1e6f;
    for (V p : points) best = query(scene, mesh, p, best);
    return double(best);
  });
  least("wall thickness, rays", [&] {
    double sum = 0;
    for (uint32_t t = 0; t < mesh.indices.size() / 3; t++) sum += across(scene, mesh, t);
    return sum;
  });
  least("field of 60 mm", [&] {
    size_t within = 0;
    for (V p : points) within += query(scene, mesh, p, 60) < 60;
    return 100.0 * within / points.size();
  });
}
