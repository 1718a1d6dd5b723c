using System.Collections.Immutable;

namespace Outcomes.Studies.Monthly;

/// <summary>
/// What an earlier, independent study (another program, another generator, other seeds) gave for the same cells, in %: what this one must
/// reproduce.
/// </summary>
internal static class MonthlyReference
{
    /// <summary>Six measures with any signal in 36 reports: cell, test, then correlation 0, .01, .02, .05.</summary>
    private static readonly string[] Families =
    [
        "5/12 filter 4.2 - 5.8 -", "5/24 filter 5.7 - 8.4 -", "10/12 filter 3.6 - 6.2 -", "10/24 filter 5.2 6.6 8.8 12.6",
        "25/12 filter 2.3 - 9.1 -", "25/24 filter 3.3 - 9.9 -", "50/12 filter 2.3 - 9.7 -", "50/24 filter 2.7 - 9.3 -",
        "5/12 odds 5.3 - 7.4 -", "5/24 odds 6.1 - 8.5 -", "10/12 odds 4.4 - 7.1 -", "10/24 odds 5.8 - 8.6 -",
        "25/12 odds 2.9 - 8.4 -", "25/24 odds 4.5 - 9.7 -", "50/12 odds 2.9 - 8.6 -", "50/24 odds 3.3 - 8.7 -",
        "5/12 joint 5.4 6.6 8.0 -", "5/24 joint 6.5 7.0 9.2 -", "10/12 joint 4.9 6.4 9.2 -", "10/24 joint 5.1 7.3 8.9 13.1",
        "25/12 joint 2.8 6.6 9.8 -", "25/24 joint 3.3 7.2 9.9 -", "50/12 joint 2.3 7.2 9.6 -", "50/24 joint 3.0 7.5 8.7 -",
    ];

    /// <summary>One measure at correlation .02: cell, test, then rates 5, 8, 15, 20 %.</summary>
    private static readonly string[] Single =
    [
        "5/12 filter 0.6 1.0 1.2 1.3", "5/24 filter 1.2 1.6 1.5 1.7", "10/12 filter 1.0 1.0 1.1 1.0", "10/24 filter 1.8 1.4 1.4 1.4",
        "25/12 filter 1.6 1.6 1.6 1.6", "25/24 filter 2.0 1.6 1.5 1.7", "50/12 filter 1.8 1.8 1.6 1.6", "50/24 filter 1.9 1.7 1.4 1.4",
        "5/12 joint 0.7 1.4 1.8 1.9", "5/24 joint 1.3 1.6 1.9 1.7", "10/12 joint 1.3 1.7 1.8 1.8", "10/24 joint 1.6 1.8 1.5 1.4",
        "25/12 joint 1.8 1.8 1.6 1.6", "25/24 joint 2.1 1.6 1.5 1.6", "50/12 joint 1.6 1.5 1.8 1.9", "50/24 joint 1.6 1.5 1.4 1.5",
    ];

    /// <summary>Truth, then the filter at 5/24, 10/12, 10/24, 25/24, 50/24, then the joint test at 10/12, 10/24, 25/24, 50/24.</summary>
    private static readonly string[] Changed =
    [
        "85 > 70 % in month 1: 17 25 44 87 97 32 54 95 99", "85 > 70 % in month 13: 26 44 56 96 100 44 53 95 100",
        "85 > 75 % in month 1: 6 7 14 47 80 10 20 63 92", "85 > 75 % in month 13: 10 17 21 58 93 16 19 56 91",
        "5 > 10 % bad in month 13: 6 7 11 34 71 7 11 34 69", "8 > 16 % bad in month 13: 9 16 24 61 94 16 22 60 92",
        "20 > 10 % bad in month 13: 1 4 5 43 89 8 10 53 95", "relapse 21 > 10 > 21 %: 1 4 3 38 92 3 2 32 89",
        "relapse 21 > 10 > 25 %: 4 16 16 77 100 14 12 71 100", "better in the 18 months at 10 %: 2 8 15 66 96 17 27 84 100",
        "second step 10 > 17 > 26 %: 49 65 74 69 51 65 74 73 53", "drift 15 > 30 % over 36: 33 44 59 93 100 45 56 93 100",
        "drift 15 > 30 % over 72: 72 82 89 100 100 83 88 100 100", "false: season of 5 points: 1.2 0.8 1.1 1.2 1.4 1.0 1.1 1.4 1.8",
        "false: season of 8 points: 1.8 1.4 2.1 2.3 1.5 1.3 1.9 2.2 1.1", "false: one month at 50 %: 1.7 1.2 1.5 1.3 0.5 1.3 1.7 1.2 0.5",
        "false: step 15 > 30 % inside the history: 8 6 6 1 0 7.5 6.6 1.6 0.4",
        "false: step 30 > 15 % inside the history: 0 0 0 0 0 2.6 2.2 0.8 0.3", "85 > 70 % in month 25: - - - - - 60 64 98 100",
        "85 > 75 % in month 25: - - - - - 25 27 66 95", "20 > 10 % bad in month 1: - - - - - 3 7 61 96",
        "20 > 10 % bad in month 25: - - - - - 15 15 64 97",
    ];

    /// <summary>
    /// Volume, rates before > after, what is counted, then the plain interval at correlation 0, .02, .05, then that of months that vary.
    /// </summary>
    private static readonly string[] Planned =
    [
        "5 20 > 20 %: holds: 95.2 94.2 92.5 97.0 96.5 95.8", "10 5 > 5 %: holds: 96.1 94.0 90.6 97.8 96.9 95.8",
        "10 20 > 20 %: holds: 94.5 92.6 89.2 96.4 95.6 95.1", "25 20 > 20 %: holds: 95.3 89.6 79.8 97.3 95.8 94.8",
        "50 5 > 5 %: holds: 95.2 84.0 71.8 97.0 94.8 95.2", "50 20 > 20 %: holds: 95.0 82.7 70.9 97.1 95.0 94.9",
        "25 21 > 10 %: holds: 95.4 88.5 81.0 97.2 94.7 95.3", "10 21 > 10 %: leaves out 0: 66 64 63 58 53 46",
    ];

    /// <summary>Volume, rates, then plain every month, the other every month, and once, at correlation 0, .02, .05 each.</summary>
    private static readonly string[] Looks =
    [
        "5 20 > 20 %: 20 23 29 13 14 17 3.0 3.4 4.5", "10 20 > 20 %: 19 27 36 12 15 19 3.0 4.2 4.9",
        "25 20 > 20 %: 21 38 59 13 18 21 3.7 4.6 5.5", "50 20 > 20 %: 20 52 77 13 21 21 3.2 5.0 5.5",
        "10 20 > 10 %: 82 81 82 77 73 69 50 45 41", "25 20 > 10 %: 99 98 97 98 93 86 89 77 60",
    ];

    private static readonly double[] Correlations = [0, 0.01, 0.02, 0.05];

    public static ImmutableDictionary<(string Part, double Volume, string History, double Correlation, string Test, string Figure),
        (double Percent, double Error)> All
    { get; } = Make();

    private static ImmutableDictionary<(string, double, string, double, string, string), (double, double)> Make()
    {
        var all = ImmutableDictionary.CreateBuilder<(string, double, string, double, string, string), (double, double)>();
        void Add(string part, string cell, double correlation, string test, string figure, string value, int departments)
        {
            if (value == "-")
                return;
            var (percent, parts) = (double.Parse(value, System.Globalization.CultureInfo.InvariantCulture), cell.Split('/'));
            var share = Math.Clamp(percent / 100, 0.002, 0.998);
            // A sum of six measures has about the error of a share of its own; uniform rounding adds its own.
            var error = Math.Sqrt((share * (1 - share) / departments) + (Math.Pow(value.Contains('.', StringComparison.Ordinal)
                ? 0.001 : 0.01, 2) / 12));
            all.Add((part, double.Parse(parts[0], System.Globalization.CultureInfo.InvariantCulture), parts[1], correlation,
                test == "odds" ? SignalTests.Odds : test, figure), (percent, 100 * error));
        }
        foreach (var line in Families.Select(line => line.Split(' ')))
            for (var i = 0; i < 4; i++)
                Add("family", line[0], Correlations[i], line[1], "six measures", line[i + 2], line[1] == "filter" ? 5_000 : 16_000);
        foreach (var line in Single.Select(line => line.Split(' ')))
            for (var i = 0; i < 4; i++)
                Add("stable", line[0], 0.02, line[1], (string[])["5 %", "8 %", "15 %", "20 %"] is var rates ? rates[i] : "", line[i + 2],
                    line[1] == "filter" ? 5_000 : 16_000);
        string[] cells = ["5/24", "10/12", "10/24", "25/24", "50/24", "10/12", "10/24", "25/24", "50/24"];
        foreach (var (truth, values) in Changed.Select(Split))
            for (var i = 0; i < cells.Length; i++)
                Add("changed", cells[i], 0, i < 5 ? "filter" : "joint", truth, values[i], i < 5 ? 3_000 : 8_000);
        double[] three = [0, 0.02, 0.05];
        foreach (var (text, values) in Planned.Select(Split))
            for (var i = 0; i < 6; i++)
                Add("planned", $"{text[..text.IndexOf(' ', StringComparison.Ordinal)]}/12+12", three[i % 3],
                    i < 3 ? PlannedStudy.Plain : PlannedStudy.Varying, text[(text.IndexOf(' ', StringComparison.Ordinal) + 1)..], values[i],
                    4_000);
        foreach (var (text, values) in Looks.Select(Split))
            for (var i = 0; i < 9; i++)
                Add("looks", $"{text[..text.IndexOf(' ', StringComparison.Ordinal)]}/12+24", three[i % 3], PlannedStudy.LookNames[i / 3],
                    text[(text.IndexOf(' ', StringComparison.Ordinal) + 1)..], values[i], 6_000);
        return all.ToImmutable();
    }

    private static (string Text, string[] Values) Split(string line) =>
        (line[..line.LastIndexOf(": ", StringComparison.Ordinal)],
            line[(line.LastIndexOf(": ", StringComparison.Ordinal) + 2)..].Split(' '));
}
