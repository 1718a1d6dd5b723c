using System.Globalization;

namespace Outcomes.Studies.Signals;

/// <summary>
/// The figures of the study that this work started from, in per cent: an independent program in Python with NumPy, by the same formulas,
/// 800 to 1,500 departments a cell. Not truth: something to agree with.
/// </summary>
internal static class Reference
{
    /// <summary>
    /// A line a cell: false alarms in the ten conditions; strict in the first four; noticed within 12 months, and in brackets when strict.
    /// </summary>
    private static readonly string[] Lines =
    [
        "5 12 | 10 11 11 16 8 10 12 8 6 6 | 5 4 4 7 | 12 22 31 4 8 10 2 | 6 15 21 1 5 5 1",
        "5 24 | 9 11 13 17 9 9 8 7 6 5 | 4 5 6 8 | 21 26 35 7 10 12 3 | 14 19 27 4 5 7 2",
        "10 12 | 7 7 12 16 7 7 4 6 5 8 | 3 3 5 8 | 37 46 61 10 17 20 10 | 29 39 53 6 12 14 7",
        "10 24 | 7 10 11 18 8 7 7 8 7 9 | 4 5 7 11 | 53 57 66 17 23 24 15 | 45 47 60 12 17 18 9",
        "25 12 | 4 9 14 16 8 4 4 4 2 13 | 2 4 8 9 | 82 93 96 36 50 54 54 | 77 89 94 27 42 46 45",
        "25 24 | 5 8 15 15 9 4 5 4 4 16 | 3 4 9 9 | 95 96 98 55 60 63 64 | 93 95 97 46 52 58 58",
        "50 12 | 3 8 15 15 11 4 2 4 2 24 | 2 5 9 9 | 100 100 100 73 88 89 94 | 99 100 100 65 83 85 92",
        "50 24 | 4 10 14 14 13 4 4 4 2 36 | 2 6 8 9 | 100 100 100 92 94 95 97 | 100 100 100 89 93 91 95",
    ];

    /// <summary>Rounded to whole per cent: the standard deviation of a uniform error.</summary>
    private const double Rounding = 0.0029;

    public static (double? Value, double? Error) FalseAlarm(double volume, int history, string scheme, int condition) => scheme switch
    {
        "first" => Cell(volume, history, 1, condition, condition < 4 ? 1500 : 800, family: true),
        "first strict" => Cell(volume, history, 2, condition, 1500, family: true),
        _ => (null, null),
    };

    public static (double? Value, double? Error) Noticed(double volume, int history, string scheme, int change) => scheme switch
    {
        "first" => Cell(volume, history, 3, change, 900, family: false),
        "first strict" => Cell(volume, history, 4, change, 900, family: false),
        _ => (null, null),
    };

    private static (double?, double?) Cell(double volume, int history, int part, int index, int departments, bool family)
    {
        var start = string.Create(CultureInfo.InvariantCulture, $"{volume} {history} |");
        if (Array.Find(Lines, candidate => candidate.StartsWith(start, StringComparison.Ordinal)) is not { } line)
            return (null, null);
        string[] cells = line.Split('|')[part].Split(' ', StringSplitOptions.RemoveEmptyEntries);
        if (index >= cells.Length)
            return (null, null);
        var value = double.Parse(cells[index], CultureInfo.InvariantCulture) / 100;
        // A share of 0 or 1 has an error too: half a department is added on either side. Six measures at about a sixth of the
        // family's share each.
        var share = Math.Clamp(value, 0.5 / departments, 1 - (0.5 / departments));
        var error = family
            ? FalseAlarms.Family(_ => 1 - Math.Pow(1 - share, 1.0 / 6), departments).Error
            : Math.Sqrt(share * (1 - share) / departments);
        return (value, Math.Sqrt((error * error) + (Rounding * Rounding)));
    }
}
