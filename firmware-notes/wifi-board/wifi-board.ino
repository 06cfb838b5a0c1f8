// A small Wi-Fi board (ESP8266 or ESP32) with one DS18B20. It measures every 30 seconds, keeps readings while the
// broker is away, and forgets one only after the broker has acknowledged it.
//
// Libraries, from the library manager: OneWire, DallasTemperature, and "MQTT" by Joel Gaehwiler, because it can
// publish with QoS 1 and says whether the acknowledgement came. Many small MQTT libraries cannot.
// secrets.h stands beside this file and defines WIFI_NAME, WIFI_PASSWORD, BROKER_HOST, BOARD_NAME, BOARD_PASSWORD.

#ifdef ESP8266
#include <ESP8266WiFi.h>
#else
#include <WiFi.h>
#endif
#include <DallasTemperature.h>
#include <MQTT.h>
#include <OneWire.h>
#include <time.h>

#include "secrets.h"

const char *topic = "shoal/kitchen/t1/temperature";
const int dataPin = 4;
const unsigned long intervalMs = 30000;
const time_t clockIsSetAfter = 1735689600;  // 2025-01-01: before it, the network has not told the time yet

struct Reading {
  float tempC;
  time_t at;
};

const int most = 360;  // three hours at one reading in 30 seconds
Reading waiting[most];
int first = 0;
int count = 0;

OneWire bus(dataPin);
DallasTemperature sensors(&bus);
WiFiClient net;
MQTTClient client(256);
unsigned long measuredAt = 0;
unsigned long triedAt = 0;
unsigned long waitMs = 1000;

void keep(Reading reading) {
  if (count == most) {
    first = (first + 1) % most;
    count--;
  }
  waiting[(first + count) % most] = reading;
  count++;
}

bool publish(const Reading &reading) {
  char payload[96];
  if (reading.at > clockIsSetAfter)
    snprintf(payload, sizeof payload, "{\"value\":%.2f,\"unit\":\"Cel\",\"time\":%lld}", reading.tempC,
             (long long)reading.at);
  else
    snprintf(payload, sizeof payload, "%.2f", reading.tempC);
  return client.publish(topic, payload, false, 1);
}

void measure() {
  sensors.requestTemperatures();
  const float tempC = sensors.getTempCByIndex(0);
  // 85 is what the sensor holds at power-on, -127 is this library's word for "no sensor".
  if (tempC == 85.0f || tempC < -55.0f || tempC > 125.0f) return;
  const Reading reading = {tempC, time(nullptr)};
  // Without a clock a reading is only true now: the watch would take its arrival for its time.
  if (reading.at > clockIsSetAfter)
    keep(reading);
  else if (client.connected())
    publish(reading);
}

void sendWaiting() {
  while (count > 0 && client.connected()) {
    if (!publish(waiting[first])) return;
    first = (first + 1) % most;
    count--;
  }
}

void reconnect() {
  if (client.connected() || WiFi.status() != WL_CONNECTED) return;
  if (millis() - triedAt < waitMs) return;
  triedAt = millis();
  const bool isIn = client.connect(BOARD_NAME, BOARD_NAME, BOARD_PASSWORD);
  waitMs = isIn ? 1000 : min(waitMs * 2 + random(1000), 60000UL);
}

void setup() {
  WiFi.mode(WIFI_STA);
  WiFi.begin(WIFI_NAME, WIFI_PASSWORD);
  configTime(0, 0, "pool.ntp.org");
  sensors.begin();
  sensors.setResolution(12);
  client.begin(BROKER_HOST, 1883, net);
  client.setKeepAlive(60);
}

void loop() {
  client.loop();
  reconnect();
  if (measuredAt == 0 || millis() - measuredAt >= intervalMs) {
    measuredAt = millis();
    measure();
  }
  sendWaiting();
  delay(50);
}
