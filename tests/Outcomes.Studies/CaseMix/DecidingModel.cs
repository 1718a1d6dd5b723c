using System.Collections.Immutable;
using Outcomes.Studies.Signals;

namespace Outcomes.Studies.CaseMix;

/// <summary>
/// False signals where patients become harder by 0.7 standard deviations from the second year on and care stays: by the model (15 events, 3
/// for each coefficient) and by the counts.
/// </summary>
internal static class DecidingModel
{
    public const string Part = "deciding model", Model = "model", Counts = "counts";

    private const int History = 12, Months = History + MixedMonths.Reports;

    /// <summary>Cases a month, spread of the log odds, shift of the mix.</summary>
    public static readonly ImmutableArray<FourFields> Kinds = [new(10, 0, 0.7), new(10, 0.3, 0.7), new(10, 0.6, 0.7), new(10, 0.6, 0)];

    public static IEnumerable<CaseMixRow> Rows(FourFields kind, int departments, ulong seed)
    {
        var cell = Seeds.Of(seed, 2, kind.Volume, kind.Spread, kind.Shift);
        var tests = CaseMixStudy.Tests;
        var (model, counts) = (new int[tests.Length], new int[tests.Length]);
        var (fitted, part) = (0, 0);
        for (var index = 0; index < departments; index++)
        {
            var months = kind.Draw(History, Months, History + MixedMonths.Year, CaseMixStudy.Uniform(cell, index));
            var fit = months.Fit();
            fitted += fit is null ? 0 : 1;
            part += fit?.Auc.Value < 0.60 ? 1 : 0;
            double[]? chances = fit is null ? null : [.. fit.Expected(months.Data)];
            for (var test = 0; test < tests.Length; test++)
            {
                var alone = months.Follow(tests[test].Options, null);
                counts[test] += alone is null ? 0 : 1;
                model[test] += (chances is null ? alone : months.Follow(tests[test].Options, chances)) is null ? 0 : 1;
            }
        }

        var name = FormattableString.Invariant($"{kind.Volume} a month; spread {kind.Spread}; mix moved by {kind.Shift}");
        for (var test = 0; test < tests.Length; test++)
        {
            yield return new(Part, name, tests[test].Name, Model, "any signal by 36", model[test], departments, cell);
            yield return new(Part, name, tests[test].Name, Counts, "any signal by 36", counts[test], departments, cell);
        }

        yield return new(Part, name, "-", Model, "fitted", fitted, departments, cell);
        yield return new(Part, name, "-", Model, "area under 0.60", part, fitted, cell);
    }
}
