using System.ComponentModel;
using System.Diagnostics;

namespace Outcomes.Cli.Output;

/// <summary>Opens an address in the browser that a person uses. Where there is none, the printed address is enough.</summary>
internal static class OpenBrowser
{
    public static void At(string address)
    {
        try
        {
            var start = OperatingSystem.IsWindows() ? new ProcessStartInfo(address) { UseShellExecute = true }
                : new ProcessStartInfo(OperatingSystem.IsMacOS() ? "open" : "xdg-open", [address])
                {
                    RedirectStandardOutput = true,
                    RedirectStandardError = true,
                };
            using var process = Process.Start(start);
        }
        catch (Exception e) when (e is Win32Exception or InvalidOperationException or IOException)
        {
            // No browser and no way to start one: the address stands on the first line.
        }
    }
}
