using System.Collections.Immutable;
using System.Globalization;

namespace Outcomes.Analysis;

/// <summary>Events that the records hold twice, from two places that were filled in apart.</summary>
internal static class Agreements
{
    // What is compared is what was recorded: a rule that blanks one answer because it differs from the other would leave perfect agreement.
    private static readonly ImmutableArray<Pair> Pairs =
    [
        new("below_90", "Lowest saturation below 90 %", "lowest saturation in the record", "lowest sustained in the monitor’s trace, "
            + "where it covers enough", ["spo2_min", "trace_spo2_min_sustained", "trace_spo2_status"], ["below 90", "90 or more"],
            values => values[2] == "sufficient" ? (Below90(values[0]), Below90(values[1])) : null),
        new("attempts", "Intubation attempts", "number in the record", "rows of the attempts",
            ["attempts_total", "intubation_attempts"], ["0", "1", "2", "3 or more"], values => (Few(values[0]), Few(values[1]))),
        new("first_pass", "First attempt succeeded", "answer in the record", "outcome of attempt 1",
            ["first_pass_success", "attempt1_outcome"], ["yes", "no"], values => (Yes(values[0]), values[1] == "success" ? 0 : 1)),
        new("sustained_co2", "Sustained carbon dioxide", "answer in the record", "breaths in the monitor’s trace",
            ["sustained_co2", "trace_sustained_co2"], ["yes", "no"], values => (Yes(values[0]), Yes(values[1]))),
    ];

    private sealed record Pair(
        string Id, string Title, string First, string Second, string[] Columns, ImmutableArray<string> Categories,
        Func<ImmutableArray<string>, (int First, int Second)?> Of);

    /// <summary>The columns that each pair is read from.</summary>
    public static IEnumerable<(string Id, string[] Columns)> Asked => Pairs.Select(pair => (pair.Id, pair.Columns));

    /// <summary>Each pair that at least one record holds, over all months up to the report month.</summary>
    public static ImmutableArray<AgreementFigures> Analyse(DepartmentCounts department) =>
        [.. Pairs.Select(pair => Tabulate(pair, department)).Where(report => report.Both > 0)];

    private static AgreementFigures Tabulate(Pair pair, DepartmentCounts department)
    {
        var table = new long[pair.Categories.Length, pair.Categories.Length];
        foreach (var (values, records) in department.Agreements.GetValueOrDefault(pair.Id, []))
            if (pair.Of(values) is var (first, second))
                table[first, second] += records;
        var of = Enumerable.Range(0, pair.Categories.Length);
        return new(pair.Id, pair.Title, pair.First, pair.Second, pair.Categories,
            [.. of.Select(i => of.Select(j => table[i, j]).ToImmutableArray())], department.Book.First, department.Month);
    }

    private static int Below90(string value) => Number(value) < 90 ? 0 : 1;

    private static int Few(string value) => (int)Math.Min(Number(value), 3);

    private static double Number(string value) => double.Parse(value, CultureInfo.InvariantCulture);

    private static int Yes(string value) => value is "true" ? 0 : 1;
}
