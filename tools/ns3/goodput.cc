// Goodput of saturated Wi-Fi stations beside one access point, by packet simulation.
// Built and run by run_goodput.py against the libraries of the `ns3` wheel; prints the goodput
// of all stations together and that of the last one in Mb/s.

#include "ns3/applications-module.h"
#include "ns3/core-module.h"
#include "ns3/internet-module.h"
#include "ns3/mobility-module.h"
#include "ns3/network-module.h"
#include "ns3/traffic-control-module.h"
#include "ns3/wifi-module.h"

#include <iostream>
#include <map>
#include <string>
#include <vector>

using namespace ns3;

int
main(int argc, char* argv[])
{
    std::string generation = "HE";
    std::string transport = "udp";
    bool down = false;
    bool protect = false;
    bool request = true;
    uint32_t mcs = 11;
    int32_t slow = -1;
    uint32_t width = 80;
    uint32_t streams = 2;
    uint32_t guard = 800;
    uint32_t stations = 1;
    double seconds = 1.0;
    double begin = 0.5;
    double offered = 1300;

    CommandLine cmd;
    cmd.AddValue("generation", "HT, VHT, HE or EHT", generation);
    cmd.AddValue("transport", "udp or tcp", transport);
    cmd.AddValue("down", "the access point sends", down);
    cmd.AddValue("protect", "RTS before each aggregate", protect);
    cmd.AddValue("request", "ask for the acknowledgement again after it was missed", request);
    cmd.AddValue("mcs", "step", mcs);
    cmd.AddValue("slow", "step of the last station; the same as the others where negative", slow);
    cmd.AddValue("width", "MHz", width);
    cmd.AddValue("streams", "spatial streams", streams);
    cmd.AddValue("guard", "ns", guard);
    cmd.AddValue("stations", "stations", stations);
    cmd.AddValue("seconds", "measured time", seconds);
    cmd.AddValue("begin", "start of the measured time; traffic starts at 0.2 s", begin);
    cmd.AddValue("offered", "UDP load of all stations together, Mb/s", offered);
    cmd.Parse(argc, argv);

    Config::SetDefault("ns3::WifiRemoteStationManager::RtsCtsThreshold",
                       StringValue(protect ? "0" : "4692480"));
    // a window that fills two aggregates and never overflows the queue: no loss, so only the medium counts
    Config::SetDefault("ns3::TcpSocket::SegmentSize", UintegerValue(1448));
    Config::SetDefault("ns3::TcpSocket::SndBufSize", UintegerValue(2 << 20));
    Config::SetDefault("ns3::TcpSocket::RcvBufSize", UintegerValue(2 << 20));
    // frames that grow too old in the queue would punch holes in the acknowledgement window
    Config::SetDefault("ns3::WifiMacQueue::MaxSize", StringValue("2000p"));
    Config::SetDefault("ns3::WifiMacQueue::MaxDelay", TimeValue(Seconds(100)));
    Config::SetDefault("ns3::QosTxop::UseExplicitBarAfterMissedBlockAck", BooleanValue(request));

    static const std::map<std::string, WifiStandard> standards = {{"HT", WIFI_STANDARD_80211n},
                                                                  {"VHT", WIFI_STANDARD_80211ac},
                                                                  {"HE", WIFI_STANDARD_80211ax},
                                                                  {"EHT", WIFI_STANDARD_80211be}};
    static const std::map<std::string, std::string> prefixes = {{"HT", "HtMcs"},
                                                                {"VHT", "VhtMcs"},
                                                                {"HE", "HeMcs"},
                                                                {"EHT", "EhtMcs"}};
    static const std::map<std::string, uint32_t> aggregates = {{"HT", 65535},
                                                               {"VHT", 1048575},
                                                               {"HE", 6500631},
                                                               {"EHT", 15523200}};

    NodeContainer ap(1);
    NodeContainer sta(stations);

    YansWifiChannelHelper channel = YansWifiChannelHelper::Default();
    YansWifiPhyHelper phy;
    phy.SetChannel(channel.Create());
    phy.Set("ChannelSettings", StringValue("{0, " + std::to_string(width) + ", BAND_5GHZ, 0}"));
    phy.Set("Antennas", UintegerValue(streams));
    phy.Set("MaxSupportedTxSpatialStreams", UintegerValue(streams));
    phy.Set("MaxSupportedRxSpatialStreams", UintegerValue(streams));

    WifiHelper wifi;
    wifi.SetStandard(standards.at(generation));
    auto setStep = [&](uint32_t value) {
        // HT numbers each stream's steps on from the last
        const uint32_t step = generation == "HT" ? value + 8 * (streams - 1) : value;
        wifi.SetRemoteStationManager("ns3::ConstantRateWifiManager",
                                     "DataMode",
                                     StringValue(prefixes.at(generation) + std::to_string(step)),
                                     "ControlMode",
                                     StringValue("OfdmRate24Mbps"));
    };
    if (generation == "HT" || generation == "VHT")
    {
        wifi.ConfigHtOptions("ShortGuardIntervalSupported", BooleanValue(guard == 400));
    }
    else
    {
        wifi.ConfigHeOptions("GuardInterval", TimeValue(NanoSeconds(guard)));
    }

    const auto aggregate = UintegerValue(aggregates.at(generation));
    WifiMacHelper mac;
    Ssid ssid("goodput");
    mac.SetType("ns3::StaWifiMac", "Ssid", SsidValue(ssid), "BE_MaxAmpduSize", aggregate);
    NetDeviceContainer staDevices;
    for (uint32_t i = 0; i < stations; ++i)
    {
        setStep(slow >= 0 && i + 1 == stations ? slow : mcs);
        staDevices.Add(wifi.Install(phy, mac, sta.Get(i)));
    }
    setStep(mcs);
    mac.SetType("ns3::ApWifiMac", "Ssid", SsidValue(ssid), "BE_MaxAmpduSize", aggregate);
    NetDeviceContainer apDevice = wifi.Install(phy, mac, ap);

    MobilityHelper mobility;
    mobility.SetMobilityModel("ns3::ConstantPositionMobilityModel");
    mobility.Install(ap);
    mobility.Install(sta);
    for (uint32_t i = 0; i < stations; ++i)
    {
        sta.Get(i)->GetObject<MobilityModel>()->SetPosition(Vector(1.0, 0.01 * i, 0.0));
    }

    InternetStackHelper stack;
    stack.Install(ap);
    stack.Install(sta);
    Ipv4AddressHelper address;
    address.SetBase("10.0.0.0", "255.255.255.0");
    Ipv4InterfaceContainer apInterface = address.Assign(apDevice);
    Ipv4InterfaceContainer staInterfaces = address.Assign(staDevices);

    TrafficControlHelper none;
    none.Uninstall(apDevice);
    none.Uninstall(staDevices);

    const bool tcp = transport == "tcp";
    const std::string factory = tcp ? "ns3::TcpSocketFactory" : "ns3::UdpSocketFactory";
    ApplicationContainer sinks;
    for (uint32_t i = 0; i < stations; ++i)
    {
        Ptr<Node> from = down ? ap.Get(0) : sta.Get(i);
        Ptr<Node> to = down ? sta.Get(i) : ap.Get(0);
        Ipv4Address target = down ? staInterfaces.GetAddress(i) : apInterface.GetAddress(0);
        const uint16_t port = 9000 + i;
        PacketSinkHelper sink(factory, InetSocketAddress(Ipv4Address::GetAny(), port));
        sinks.Add(sink.Install(to));
        ApplicationContainer source;
        if (tcp)
        {
            BulkSendHelper bulk(factory, InetSocketAddress(target, port));
            bulk.SetAttribute("MaxBytes", UintegerValue(0));
            bulk.SetAttribute("SendSize", UintegerValue(1448));
            source = bulk.Install(from);
        }
        else
        {
            UdpClientHelper client(target, port);
            client.SetAttribute("MaxPackets", UintegerValue(4294967295u));
            client.SetAttribute("PacketSize", UintegerValue(1472));
            client.SetAttribute("Interval", TimeValue(Seconds(1472 * 8 * stations / (offered * 1e6))));
            source = client.Install(from);
        }
        source.Start(Seconds(0.2 + 0.001 * i));
    }

    std::vector<uint64_t> atBegin(stations);
    auto received = [&sinks](uint32_t i) { return DynamicCast<PacketSink>(sinks.Get(i))->GetTotalRx(); };
    Simulator::Schedule(Seconds(begin), [&]() {
        for (uint32_t i = 0; i < stations; ++i)
        {
            atBegin[i] = received(i);
        }
    });
    Simulator::Stop(Seconds(begin + seconds));
    Simulator::Run();
    double total = 0;
    double last = 0;
    for (uint32_t i = 0; i < stations; ++i)
    {
        last = (received(i) - atBegin[i]) * 8 / seconds / 1e6;
        total += last;
    }
    std::cout << total << " " << last << std::endl;
    Simulator::Destroy();
    return 0;
}
