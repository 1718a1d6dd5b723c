namespace Outcomes.Ingestion.Parsing;

/// <summary>Conversions between the unit of a file and that of the dictionary (UCUM codes).</summary>
public static class Units
{
    // Multiply, then divide: 180 s is exactly 3 min that way. 1 kPa = 7.50062 mm[Hg].
    private static readonly Dictionary<(string From, string To), (double Multiply, double Divide)> Table = new()
    {
        [("s", "min")] = (1, 60),
        [("min", "s")] = (60, 1),
        [("h", "min")] = (60, 1),
        [("min", "h")] = (1, 60),
        [("h", "s")] = (3600, 1),
        [("s", "h")] = (1, 3600),
        [("d", "h")] = (24, 1),
        [("kPa", "mm[Hg]")] = (7.50062, 1),
        [("mm[Hg]", "kPa")] = (1, 7.50062),
        [("1", "%")] = (100, 1),
        [("%", "1")] = (1, 100),
        [("m", "cm")] = (100, 1),
        [("mm", "cm")] = (1, 10),
        [("cm", "mm")] = (10, 1),
        [("g", "kg")] = (1, 1000),
        [("L", "mL")] = (1000, 1),
        [("mL", "L")] = (1, 1000),
        [("ug", "mg")] = (1, 1000),
        [("g", "mg")] = (1000, 1),
    };

    private static readonly Dictionary<string, string> Spoken = new(StringComparer.OrdinalIgnoreCase)
    {
        ["mmHg"] = "mm[Hg]",
        ["percent"] = "%",
        ["fraction"] = "1",
        ["seconds"] = "s",
        ["minutes"] = "min",
        ["hours"] = "h",
        ["days"] = "d",
    };

    /// <summary>
    /// The UCUM code of a unit that may be written as people say it (mmHg, percent, fraction, seconds, minutes, hours, days).
    /// </summary>
    public static string Code(string unit) => Spoken.GetValueOrDefault(unit, unit);

    /// <summary>The conversion, or null when there is none between the two units.</summary>
    public static (double Multiply, double Divide)? Between(string from, string to) =>
        Code(from) == to ? (1, 1) : Table.TryGetValue((Code(from), to), out var factor) ? factor : null;
}
