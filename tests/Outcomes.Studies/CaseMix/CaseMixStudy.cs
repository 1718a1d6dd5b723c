using System.Collections.Immutable;
using System.Globalization;
using Outcomes.Statistics;

namespace Outcomes.Studies.CaseMix;

/// <summary>
/// Who decides where the case mix is followed, what a field that comes to be missing does, and whether intervals of observed over expected
/// hold the truth. Every department has a seed of its own; one thread.
/// </summary>
internal static class CaseMixStudy
{
    public const ulong Seed = 20_261_130;

    public const int Departments = 500;

    /// <summary>The filter alone at one limit, as the published study had it, and the test as shipped with its own limits.</summary>
    public static readonly ImmutableArray<(string Name, MonthlyTestOptions Options)> Tests =
    [
        ("filter at 2.2", MonthlyTestOptions.FilterAlone with
        {
            LimitCurve = new(Most: 2.2, Slope: 0, ShortHistory: 0, BetterLower: 0) { AtOne = 2.2, BudgetSlope = 0 },
        }),
        ("as shipped", MonthlyTestOptions.Joint),
    ];

    /// <param name="file">The file of rows.</param>
    /// <param name="rest">Departments; none: the study's own.</param>
    public static void Write(string file, string[] rest)
    {
        var departments = rest is [var number] ? int.Parse(number, CultureInfo.InvariantCulture) : Departments;
        File.WriteAllText(file, string.Concat(
            Rows(departments, Console.Error.WriteLine).Select(row => row.Line + "\n").Prepend(CaseMixRow.Header + "\n")));
    }

    private static IEnumerable<CaseMixRow> Rows(int departments, Action<string> log)
    {
        foreach (var kind in MissingField.Kinds)
            foreach (var row in MissingField.Rows(kind, departments, Seed))
                yield return Told(row);
        foreach (var kind in DecidingModel.Kinds)
            foreach (var row in DecidingModel.Rows(kind, Math.Min(departments, 400), Seed))
                yield return Told(row);
        foreach (var kind in RatioCoverage.Kinds)
            foreach (var row in RatioCoverage.Rows(kind, 4 * departments, Seed))
                yield return Told(row);

        CaseMixRow Told(CaseMixRow row)
        {
            log(row.Line);
            return row;
        }
    }

    /// <summary>The uniform numbers of one department of a cell.</summary>
    public static Func<double> Uniform(ulong cell, int department)
    {
        var state = cell;
        return SplitMix64.Uniform(SplitMix64.Next(ref state) ^ (0x9E3779B97F4A7C15UL * ((ulong)department + 1)));
    }
}
