using System.Collections.Immutable;
using Bogus;

namespace Outcomes.Synthetic;

/// <summary>How many procedures each month has.</summary>
/// <param name="Own">The department's own volume of each month: one round.</param>
/// <param name="Asked">What each month gets of the number asked for.</param>
internal sealed record Volumes(ImmutableArray<int> Own, ImmutableArray<int> Asked)
{
    public static Volumes Of(SynthesisOptions options)
    {
        var own = Enumerable.Range(0, options.Months).Select(m => OwnVolume(options, m)).ToImmutableArray();
        if (options.Procedures is not { } asked)
            return new(own, own);

        // The places of one round in a fixed shuffled order: the first N of endless rounds are filled, so a larger N only adds.
        var round = own.SelectMany((volume, month) => Enumerable.Range(0, volume).Select(position => (month, position)))
            .OrderBy(place => Seeds.For(options.Seed, Seeds.Purpose.Order, MonthNumber(options, place.month), place.position))
            .ThenBy(place => place.month).ThenBy(place => place.position).ToImmutableArray();
        var begun = round.Take(asked % round.Length).CountBy(place => place.month).ToDictionary();
        return new(own, [.. own.Select((volume, month) => (asked / round.Length * volume) + begun.GetValueOrDefault(month))]);
    }

    /// <summary>Months from January 2000, so that a later first month leaves the months both have alike.</summary>
    public static int MonthNumber(SynthesisOptions options, int month) =>
        ((options.FirstMonth.Year - 2000) * 12) + options.FirstMonth.Month - 1 + month;

    /// <summary>Seventy chances of 0.2: mean 14, nearly Poisson; at least 10, so that every planted case has its place.</summary>
    private static int OwnVolume(SynthesisOptions options, int month)
    {
        if (options.FirstMonth.AddMonths(month) == Practice.QuietMonth)
            return 3;
        var draw = new Randomizer(Seeds.For(options.Seed, Seeds.Purpose.Volume, MonthNumber(options, month), 0));
        return Math.Max(10, Enumerable.Range(0, 70).Count(_ => draw.Chance(200)));
    }
}
