using System.Globalization;
using System.Text;
using Outcomes.Ingestion.Identifiers;

namespace Outcomes.Tests.Ingestion.Identifiers;

/// <summary>
/// Numbers for tests. NHS-like numbers that are written down or stored lie in the range kept for tests, 999 000 0000 and up. A
/// number in a CHI or Health and Care range could be somebody's, so none is written here: those are worked out while a test runs.
/// </summary>
internal static class TestNumbers
{
    /// <summary>A number of the test range whose check digit is right.</summary>
    public static string Passing(int serial) => Completed("999", serial % 1_000_000);

    /// <summary>A number of the test range whose check digit is wrong.</summary>
    public static string Failing(int serial)
    {
        var good = Passing(serial);
        return good[..9] + (char)('0' + ((good[9] - '0' + 1) % 10));
    }

    /// <summary>A number that starts with three given digits (or more) and passes; skips stems that have no check digit.</summary>
    public static string Completed(string start, int serial)
    {
        var places = 9 - start.Length;
        for (var i = serial; ; i++)
        {
            var stem = start + (i % (int)Math.Pow(10, places)).ToString(CultureInfo.InvariantCulture).PadLeft(places, '0');
            for (var digit = 0; digit < 10; digit++)
                if (TenDigits.Pass(Encoding.ASCII.GetBytes(stem + digit.ToString(CultureInfo.InvariantCulture))))
                    return stem + digit.ToString(CultureInfo.InvariantCulture);
        }
    }

    public static string Grouped(string digits, string separator) => $"{digits[..3]}{separator}{digits[3..6]}{separator}{digits[6..]}";
}
