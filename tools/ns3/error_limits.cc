// Signal-to-noise ratio in dB at which an ideal receiver in white noise loses one packet in ten, by HE/EHT step.
// Built like goodput.cc; prints "mcs,snr_db" lines. 1458 bytes, one stream, 20 MHz, the table-based error model.

#include "ns3/core-module.h"
#include "ns3/wifi-module.h"

#include <cmath>
#include <iostream>

using namespace ns3;

int
main()
{
    Ptr<ErrorRateModel> model = CreateObject<TableBasedErrorRateModel>();
    const uint64_t bits = 1458 * 8;
    for (uint8_t mcs = 0; mcs <= 13; ++mcs)
    {
        const WifiMode mode = EhtPhy::GetEhtMcs(mcs);
        WifiTxVector vector;
        vector.SetMode(mode);
        vector.SetPreambleType(WIFI_PREAMBLE_EHT_MU);
        vector.SetChannelWidth(20);
        vector.SetNss(1);
        vector.SetGuardInterval(NanoSeconds(800));
        vector.SetLdpc(true);
        double low = -10;
        double high = 60;
        for (int i = 0; i < 40; ++i)
        {
            const double middle = (low + high) / 2;
            const double snr = std::pow(10.0, middle / 10);
            (model->GetChunkSuccessRate(mode, vector, snr, bits) < 0.9 ? low : high) = middle;
        }
        std::cout << +mcs << "," << std::round(high * 10) / 10 << std::endl;
    }
    return 0;
}
