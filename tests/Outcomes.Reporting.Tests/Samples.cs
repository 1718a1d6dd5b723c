using System.Collections.Immutable;
using Outcomes.Analysis;
using Outcomes.Measures;
using Outcomes.Measures.Catalogue;
using Outcomes.Records;
using Outcomes.Statistics;

namespace Outcomes.Tests.Reporting;

/// <summary>An invented department's report: no person, hospital or figure of it exists.</summary>
public static class Samples
{
    public static readonly Month First = new(2023, 4);
    public const int Months = 36;

    public static Figures Model()
    {
        var random = new Random(7);
        var volume = Enumerable.Range(0, Months).Select(_ => (long)random.Next(12, 24)).ToImmutableArray();
        return new Figures
        {
            PipelineName = "harbour-demo",
            Month = First.AddMonths(Months - 1),
            First = First,
            Last = First.AddMonths(Months - 1),
            AsOf = new DateOnly(2026, 4, 9),
            Invented = true,
            Version = "0.1.0",
            DefinitionsHash = new string('a', 56) + "0f1e2d3c",
            Inputs =
            [
                new("procedures", "9f86d081884c7d659a2feaa0c55ad015a3bf4f1b2b0b822cd15d6c15b0f00a08", 655),
                new("attempts", new string('b', 64), 812)
            ],
            Assumptions = [new("urgency", "emergency")],
            Procedures = volume,
            Reconciliations = [new("procedures.csv", 655, 631, 12, 3, 9), new("corrections.csv", 14, 14, 0, 0, 0)],
            Measures = Measures(volume, random),
            LadderShares = [new(0.957, 0.998), new(0.002, 0.043), new(0, 0.029), new(0, 0.019)],
            Ladder = Ladder(),
            Findings = FindingGroup.Of(
            [
                new("identifier.missing", Severity.Refuse, "procedures.csv", 14, "", "",
                    "The row has no record id. Give each procedure a key of its own."),
                new("range.hard", Severity.Blank, "procedures.csv", 30, "spo2_min", "R0028",
                    "The saturation is outside 20 to 100 %: treated as missing."),
                new("range.hard", Severity.Blank, "procedures.csv", 31, "sbp_min", "R0029",
                    "The saturation is outside 20 to 100 %: treated as missing."),
                new("range.plausible", Severity.Warn, "procedures.csv", 77, "weight_kg", "R0075", "The value is unusual. Check it."),
            ]),
            Completeness =
            [
                new("spo2_min", "Lowest saturation", 600, 631), new("sbp_min", "Lowest systolic pressure", 588, 631),
                new("urgency", "Urgency", 0, 631, false)
            ],
            RulesNotRun = [new("nadir_below_first_spo2", ["spo2_at_2min"])],
        };
    }

    private static ImmutableArray<MeasureFigures> Measures(ImmutableArray<long> volume, Random random) =>
    [
        Measure(Definition("first_pass", "First-pass success", Direction.Up), volume,
            i => i < 20 ? 0.76 : 0.93, 0.04, random, gapAt: 9) with
        {
            Headline = true,
            RestsOn = [new("urgency", "emergency")],
            Strata = Strata()
        },
        Measure(Definition("spo2_below_90", "Lowest saturation below 90 %", Direction.Down), volume,
            i => i is > 18 and < 24 ? 0.35 : 0.16, 0.12, random) with { Headline = true },
        Measure(Definition("hypotension", "Systolic pressure below 90 mmHg", Direction.Down), volume, _ => 0.12, 0.1, random) with
        {
            Headline = true
        },
        Measure(Definition("waveform_co2", "Waveform capnography used", Direction.Up), volume, _ => 0.96, 0.05, random) with
        {
            Headline = true,
            KnownOnly = (new Count(201, 204, 0), Estimate(new Count(201, 204, 0))),
        },
        Measure(Definition("arrest_peri", "Cardiac arrest around intubation", Direction.Down), volume, _ => 0.015, 0.02, random),
        Quarterly("fona", "Front-of-neck access", volume),
        new MeasureFigures
        {
            Measure = Definition("lowest_saturation", "Lowest saturation", Direction.Up) with
            {
                Kind = MeasureKind.Quantity,
                Met = "",
                Value = "lowest_spo2",
                Unit = "%"
            },
            ThisMonthQuantity = QuantitySummary.Of([(88, 3), (93, 4), (97, 4)], 1),
            YearQuantity = QuantitySummary.Of([(71, 2), (84, 21), (88, 33), (93, 60), (97, 54)], 17),
        },
        new MeasureFigures
        {
            Measure = Definition("membrane_identified", "Cricothyroid membrane identified", Direction.Up),
            NotCollected = new(["membrane_palpated", "membrane_ultrasound"]),
        },
    ];

    private static PlanLadder Ladder() =>
        new PlanLadder(First.AddMonths(Months - 12), First.AddMonths(Months - 1), 214, 190, 15, 6, 3,
            [new("A", 208, 209, 17, 196, 208), new("B", 2, 14, 8, 8, 13), new("C", 0, 5, 2, 2, 5), new("D", 0, 1, 0, 1, 1)],
            [
                new("A", "B", 11), new("A", "C", 2), new("A", "woken", 1), new("B", "A", 4), new("B", "C", 3), new("B", "D", 1),
                new("C", "B", 1), new("C", "woken", 1), new("D", "died", 1),
            ]);

    public static Measure Definition(string id, string title, Direction direction) => new(id, title)
    {
        Eligible = "emergency AND first_airway_is_intubation_attempt",
        Met = id == "fona" ? "fona_performed" : $"{id} AND spo2_min < 90",
        Direction = direction,
        Per = id == "fona" ? 1000 : 100,
        Why = "An invented reason that says in a sentence why a department should look at this.",
        Source = "An invented source, 2020.",
        AsPublished = id == "first_pass" ? "The tube is placed during a single insertion of the laryngoscope." : "",
        Difference = id == "first_pass" ? "An attempt is what the record numbers as one." : "",
        Published = id == "first_pass" ? "84.1 % (80.1 to 87.4) pooled over emergency departments." : "",
    };

    public static Estimate? Estimate(Count count)
    {
        if (count.Eligible == 0)
            return null;
        double n = count.Eligible, p = count.Met / n;
        const double Z = 1.959963984540054;
        var middle = (p + (Z * Z / (2 * n))) / (1 + (Z * Z / n));
        var half = Z / (1 + (Z * Z / n)) * Math.Sqrt((p * (1 - p) / n) + (Z * Z / (4 * n * n)));
        return new(p, count.Met == 0 ? 0 : middle - half, count.Met == count.Eligible ? 1 : middle + half, 0.95, "wilson",
            "Wilson EB. J Am Stat Assoc 1927;22:209-12", count);
    }

    private static MeasureFigures Measure(
        Measure definition, ImmutableArray<long> volume, Func<int, double> chance, double missing, Random random, int gapAt = -1)
    {
        var counts = volume.Select((n, i) =>
        {
            if (i == gapAt)
                return default;
            var eligible = i == 4 ? 3 : Enumerable.Range(0, (int)n).LongCount(_ => random.NextDouble() > missing);
            return new Count(Enumerable.Range(0, (int)eligible).LongCount(_ => random.NextDouble() < chance(i)), eligible,
                Math.Max(0, n - eligible));
        }).ToImmutableArray();
        var points =
            counts.Select((count, i) => new RunChartPoint(i, 1, count, count.Eligible == 0 ? null : count.Met / (double)count.Eligible));
        return Report(definition, counts, [.. points], PointSpan.Month);
    }

    private static MeasureFigures Quarterly(string id, string title, ImmutableArray<long> volume)
    {
        var counts = volume.Select((n, i) => new Count(i == 30 ? 1 : 0, n, 0)).ToImmutableArray();
        var points = Enumerable.Range(0, Months / 3).Select(q =>
        {
            var sum = counts[q * 3] + counts[(q * 3) + 1] + counts[(q * 3) + 2];
            return new RunChartPoint(q * 3, 3, sum, sum.Met / (double)sum.Eligible);
        });
        return Report(Definition(id, title, Direction.None), counts, [.. points], PointSpan.Quarter);
    }

    private static MeasureFigures Report(
        Measure measure, ImmutableArray<Count> counts, ImmutableArray<RunChartPoint> points, PointSpan span)
    {
        var baseline = points.Where(point => point.Start < 12 && point.Value is not null)
            .Select(point => point.Value!.Value).Order().ToArray();
        var median = (baseline[(baseline.Length - 1) / 2] + baseline[baseline.Length / 2]) / 2;
        var sides = points.Where(point => point.Value is { } v && v != median).Select(point => point.Value > median).ToList();
        var (run, longest, crossings) = (0, 0, 0);
        for (var i = 0; i < sides.Count; i++)
        {
            run = i > 0 && sides[i] == sides[i - 1] ? run + 1 : 1;
            crossings += i > 0 && sides[i] != sides[i - 1] ? 1 : 0;
            longest = Math.Max(longest, run);
        }

        var year = counts[^12..].Aggregate(default(Count), (sum, count) => sum + count);
        return new MeasureFigures
        {
            Measure = measure,
            ThisMonth = counts[^1],
            Year = year,
            YearEstimate = Estimate(year),
            YearBounds = Proportion.MissingBounds(year),
            ZeroBound = year.Met == 0 ? 1 - Math.Pow(0.05, 1.0 / year.Eligible) : null,
            Series = new Series(First.Year, First.Number, counts),
            Phases = [new RunChart
            {
                Span = span,
                Points = points,
                Baseline = (0, 12),
                Median = median,
                Useful = sides.Count,
                LongestRun = longest,
                RunLimit = 8,
                Crossings = crossings,
                CrossingsLimit = 13,
                Untested = median is 0 or 1 ? Untested.MedianAtEdge : Untested.No,
                Chance = median is 0 or 1 ? null : 0.047,
                ChanceMethod = ChanceMethod.FairCoin,
            }],
            PointIntervals =
                [.. points.Select(point => Estimate(point.Count) is { } e ? new Bounds(e.Lower, e.Upper) : default(Bounds?))],
        };
    }

    /// <summary>The same for levels of a stratum, merged or not.</summary>
    public static Estimate? Estimate(Count count, IReadOnlyList<string> levels) => levels.Count == 0 ? null : Estimate(count);

    private static ImmutableArray<StratumFigures> Strata() =>
    [
        StratumFigures.Of("location_type", [("icu", new Count(61, 70, 2)), ("ed", new Count(90, 103, 3)),
            ("ward", new Count(2, 3, 0)), (CountRow.MissingLevel, new Count(9, 11, 0))], Estimate),
        StratumFigures.Of("hour_band", [("day", new Count(100, 110, 2)), ("night", new Count(60, 74, 3))], Estimate),
    ];
}
