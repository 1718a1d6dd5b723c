using System.Collections.Immutable;
using System.Globalization;
using Outcomes.Statistics;

namespace Outcomes.Studies.Coverage;

/// <summary>How often the interval of a level of a stratum holds its rate, by whose months tell how much they vary.</summary>
/// <param name="Name">As the table says it.</param>
/// <param name="Share">Of all cases.</param>
/// <param name="Months">Of the twelve in which it is seen; its cases of the year stay.</param>
/// <param name="VariesAlone">Whether its months vary by themselves; else with those of all other cases.</param>
internal sealed record StudiedLevel(string Name, double Share, int Months = 12, bool VariesAlone = false);

internal static class LevelIntervalStudy
{
    public const string Plain = " plain", OwnMonths = " by its own months", Prefix = "level: ";

    private const int Months = 12, Seed = 20_261_201;

    public static ImmutableArray<StudiedLevel> Levels { get; } =
    [
        new("a third", 1 / 3.0), new("a tenth", 0.1), new("a twenty-fifth", 0.04), new("a third in 3 months", 1 / 3.0, 3),
        new("a tenth in 3 months", 0.1, 3), new("a third that varies alone", 1 / 3.0, VariesAlone: true),
        new("a tenth that varies alone", 0.1, VariesAlone: true),
    ];

    public static IEnumerable<string> Rows(int departments) =>
        from level in Levels
        from cases in PageIntervalStudy.Cases
        from rate in PageIntervalStudy.Rates
        from correlation in PageIntervalStudy.Correlations
        from row in Cell(level, cases, rate, correlation, departments)
        select row;

    // Departments without enough records of the level have no interval on a page, and are not counted.
    private static IEnumerable<string> Cell(StudiedLevel level, int cases, double rate, double correlation, int departments)
    {
        var random = new Random(Seed + cases + (int)(1000 * rate) + (int)(100_000 * correlation) + (1_000_000 * Levels.IndexOf(level)));
        var (of, held) = (0, new int[3]);
        for (var department = 0; department < departments; department++)
        {
            EventCount[] own = new EventCount[Months], all = new EventCount[Months];
            for (var month = 0; month < Months; month++)
            {
                var others = PageIntervalStudy.DrawRate(random, rate, correlation);
                var mine = level.VariesAlone ? PageIntervalStudy.DrawRate(random, rate, correlation) : others;
                own[month] = month < level.Months
                    ? PageIntervalStudy.Draw(random, cases * level.Share * Months / level.Months, mine) : default;
                all[month] = own[month] + PageIntervalStudy.Draw(random, cases * (1 - level.Share), others);
            }
            if (own.Sum(month => month.Cases) < 5)
                continue;
            var found = LevelProportion.Estimate(own, all)!;
            of++;
            held[0] += Holds(found.Within) ? 1 : 0;
            held[1] += Holds(found.Plain) ? 1 : 0;
            held[2] += Holds(VaryingProportion.Estimate(own)!.Within) ? 1 : 0;
        }

        return ((string[])["", Plain, OwnMonths]).Index().Select(kind => string.Create(CultureInfo.InvariantCulture,
            $"{Prefix}{level.Name}{kind.Item},{cases},{rate},{correlation},{of},{100.0 * held[kind.Index] / of:0.0}"));

        bool Holds(Bounds bounds) => bounds.Lower <= rate && rate <= bounds.Upper;
    }
}
