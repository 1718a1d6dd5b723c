using System.Collections.Immutable;
using System.Globalization;
using Bogus;

namespace Outcomes.Synthetic.Export;

/// <summary>
/// What the stores counted, month by month: a tube for each procedure that was recorded, and for about one in fourteen that nobody entered.
/// An independent count, so that a report can say how many procedures its records hold.
/// </summary>
public static class TubesIssued
{
    private const float NeverEntered = 0.07f;

    public static void Write(SynthesisOptions options, ImmutableArray<MonthTruth> months, TextWriter tubes)
    {
        ArgumentNullException.ThrowIfNull(tubes);
        Csv.Row(tubes, ["month", "count", "source"]);
        foreach (var (index, month) in months.Index())
        {
            var draw = new Randomizer(Seeds.For(options.Seed, Seeds.Purpose.Unrecorded, index, 0));
            var lost = Enumerable.Range(0, month.Cases).Count(_ => draw.Bool(NeverEntered));
            Csv.Row(tubes, [month.Month.ToString("yyyy-MM", CultureInfo.InvariantCulture),
                (month.Cases + lost).ToString(CultureInfo.InvariantCulture), "tracheal tubes issued by the stores"]);
        }
    }
}
