using System.Collections.Immutable;

namespace Outcomes.CaseMix;

/// <summary>How a case-mix model is fitted.</summary>
public sealed record CaseMixOptions
{
    /// <summary>Fewest events (or records without the event, if rarer) for each column.</summary>
    public int EventsPerColumn { get; init; } = 10;

    /// <summary>
    /// True: fields are taken in their order as far as events allow. False: with too few events for all of them there is no model.
    /// </summary>
    public bool AsFarAsEventsAllow { get; init; }

    public int Folds { get; init; } = 5;

    public ulong Seed { get; init; } = 20_000_401;
}

/// <summary>Why there is no model.</summary>
/// <param name="Records">Judged records in the baseline.</param>
/// <param name="Events">Events, or records without one if these are fewer.</param>
/// <param name="Columns">Columns that the fields would need: the first field's alone when fields are taken as far as events allow. 0 when
/// nothing varies.</param>
/// <param name="EventsNeeded">Events that this many columns take.</param>
public sealed record Refusal(int Records, int Events, int Columns, int EventsNeeded);

/// <summary>A model, or why there is none: exactly one of them.</summary>
public sealed record CaseMixFit(CaseMixModel? Model, Refusal? Refusal)
{
    /// <summary>Where the ten events a column come from, and that they are a floor, not a warrant.</summary>
    public const string RuleSource =
        "Peduzzi P et al. J Clin Epidemiol 1996;49:1373-1379; that ten may still be too few or more than enough: van Smeden M et al. "
            + "BMC Med Res Methodol 2016;16:163, Riley RD et al. Stat Med 2019;38:1276-1296 (citations from memory)";

    // Beyond this (10,000 records with 10 columns) profiles take many seconds, and Wald's intervals are as good.
    private const long MostForProfile = 1_000_000;

    /// <summary>Codes the fields, refuses or leaves out what events do not allow, fits, and judges the fit by cross-validation.</summary>
    /// <param name="baseline">The records to fit to.</param>
    /// <param name="options">The rules.</param>
    public static CaseMixFit Fit(CaseMixData baseline, CaseMixOptions options)
    {
        ArgumentNullException.ThrowIfNull(baseline);
        ArgumentNullException.ThrowIfNull(options);
        var yes = baseline.Events.Count(value => value);
        var events = Math.Min(yes, baseline.Records - yes);
        var omitted = ImmutableArray.CreateBuilder<Omission>();
        ImmutableArray<FieldCoding> codings = [.. baseline.Given.Select(covariate => FieldCoding.Learn(covariate, baseline.Events))];
        omitted.AddRange(codings.Where(field => field.Terms.IsEmpty).Select(field => new Omission(field.Field, null, LeftOut.NoVariation)));
        codings = codings.RemoveAll(field => field.Terms.IsEmpty);
        var kept = options.AsFarAsEventsAllow ? AsFarAs(codings, events, options) : codings;
        var columns = (kept.IsEmpty ? codings.Take(1) : kept).Sum(field => field.Terms.Length);
        if (kept.IsEmpty || events < columns * options.EventsPerColumn)
            return new(null, new(baseline.Records, events, columns, columns * options.EventsPerColumn));
        omitted.AddRange(codings.Skip(kept.Length).Select(field => new Omission(field.Field, null, LeftOut.TooFewEvents)));
        return new(Fitted(baseline, kept, omitted, options), null);
    }

    // In the order stated beforehand: a later field never takes the place of one that events do not allow.
    private static ImmutableArray<FieldCoding> AsFarAs(ImmutableArray<FieldCoding> fields, int events, CaseMixOptions options)
    {
        var columns = 0;
        return [.. fields.TakeWhile(field => (columns += field.Terms.Length) * options.EventsPerColumn <= events)];
    }

    private static CaseMixModel Fitted(
        CaseMixData baseline, ImmutableArray<FieldCoding> fields, ImmutableArray<Omission>.Builder omitted, CaseMixOptions options)
    {
        ImmutableArray<Term> terms = [.. fields.SelectMany(field => field.Terms)];
        var again = Logistic.Collinear(CaseMixModel.Rows(fields, terms, baseline));
        omitted.AddRange(again.Select(at => new Omission(terms[at].Field, terms[at].Level, LeftOut.SaidAlready)));
        terms = [.. terms.Where((_, at) => !again.Contains(at))];
        var rows = CaseMixModel.Rows(fields, terms, baseline);
        var fit = Logistic.Fit(rows, baseline.Events, profile: (long)baseline.Records * terms.Length * terms.Length <= MostForProfile);
        var validated = CrossValidation.Expected(rows, baseline.Events, options.Seed, options.Folds, fit.Penalised);
        double[] apparent = [.. rows.Select(row => fit.Expected(row))];
        return new(fields, terms, fit, omitted.ToImmutable(), Discrimination.Auc(validated, baseline.Events),
            Discrimination.Auc(apparent, baseline.Events), Calibration.Assess(validated, baseline.Events));
    }
}
