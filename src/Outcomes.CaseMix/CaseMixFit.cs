using System.Collections.Immutable;

namespace Outcomes.CaseMix;

/// <summary>How a case-mix model is fitted.</summary>
public sealed record CaseMixOptions
{
    /// <summary>Fewest events, and fewest records without the event, among the records that the model is fitted to.</summary>
    public int LeastEvents { get; init; } = 15;

    /// <summary>Fewest events (or records without the event, if rarer) for each coefficient, the intercept's included.</summary>
    public int EventsPerParameter { get; init; } = 3;

    /// <summary>
    /// True: fields are taken in their order as far as events allow. False: with too few events for all of them there is no model.
    /// </summary>
    public bool AsFarAsEventsAllow { get; init; }

    public int Folds { get; init; } = 5;

    public ulong Seed { get; init; } = 20_000_401;

    /// <summary>Events that so many columns need.</summary>
    public int EventsNeeded(int columns) => Math.Max(LeastEvents, EventsPerParameter * (columns + 1));
}

/// <summary>Why there is no model.</summary>
/// <param name="Records">Judged records in the baseline.</param>
/// <param name="Events">Events, or records without one if these are fewer, among the records that know the fields.</param>
/// <param name="Columns">Columns that the fields would need: the first field's alone when fields are taken as far as events allow. 0 when
/// nothing varies.</param>
/// <param name="EventsNeeded">Events that this many columns take.</param>
public sealed record Refusal(int Records, int Events, int Columns, int EventsNeeded);

/// <summary>A model, or why there is none: exactly one of them.</summary>
public sealed record CaseMixFit(CaseMixModel? Model, Refusal? Refusal)
{
    /// <summary>Where the number of events comes from, and that no number is a warrant.</summary>
    public const string RuleSource =
        "15 events and 3 a parameter for a ridge model: the project's own simulation, docs/statistics/case-mix.md; that rules of events a "
            + "parameter are rough: van Smeden M et al. BMC Med Res Methodol 2016;16:163, Riley RD et al. Stat Med 2019;38:1276-1296 "
            + "(citations from memory)";

    /// <summary>Codes the fields, refuses or leaves out what events do not allow, fits, and judges the fit by cross-validation.</summary>
    /// <param name="baseline">The records to fit to.</param>
    /// <param name="options">The rules.</param>
    public static CaseMixFit Fit(CaseMixData baseline, CaseMixOptions options)
    {
        ArgumentNullException.ThrowIfNull(baseline);
        ArgumentNullException.ThrowIfNull(options);
        var omitted = ImmutableArray.CreateBuilder<Omission>();
        var known = new KnownRecords(baseline);
        var codings = ImmutableArray.CreateBuilder<FieldCoding>();
        foreach (var covariate in baseline.Given)
        {
            var coding = FieldCoding.Learn(covariate, baseline.Events);
            if (coding.Terms.IsEmpty)
                omitted.Add(new(coding.Field, null, coding.MissingRecords == baseline.Records
                    ? LeftOut.SeldomRecorded : LeftOut.NoVariation));
            else
                codings.Add(coding);
        }

        var kept = options.AsFarAsEventsAllow ? known.TakeInOrder(codings, options, omitted) : codings.ToImmutable();
        var asked = kept.IsEmpty ? codings.Take(1).ToImmutableArray() : kept;
        var (columns, events) = (asked.Sum(field => field.Terms.Length), known.Rarer(asked));
        if (kept.IsEmpty || events < options.EventsNeeded(columns))
            return new(null, new(baseline.Records, events, columns, columns == 0 ? 0 : options.EventsNeeded(columns)));
        return Fitted(baseline, kept, omitted, options) is { } model ? new(model, null) : new(null, new(baseline.Records, events, 0, 0));
    }

    // Null where the records that know all the fields are alike in them.
    private static CaseMixModel? Fitted(
        CaseMixData baseline, ImmutableArray<FieldCoding> fields, ImmutableArray<Omission>.Builder omitted, CaseMixOptions options)
    {
        ImmutableArray<Term> terms = [.. fields.SelectMany(field => field.Terms)];
        var again = Logistic.Collinear(
            [.. CaseMixModel.Rows(fields, terms, baseline).Where(row => !row.Any(double.IsNaN))]);
        omitted.AddRange(again.Select(at => new Omission(terms[at].Field, terms[at].Level, LeftOut.SaidAlready)));
        terms = [.. terms.Where((_, at) => !again.Contains(at))];
        if (terms.IsEmpty)
            return null;
        fields = [.. fields.Where(field => terms.Any(term => term.Field == field.Field))];
        var rows = CaseMixModel.Rows(fields, terms, baseline);
        var models = PatternModels.Fit(rows, baseline.Events);
        var validated = CrossValidation.Expected(rows, baseline.Events, options.Seed, options.Folds, models.Patterns);
        return new(fields, terms, models, omitted.ToImmutable(), Discrimination.Auc(validated, baseline.Events),
            Discrimination.Auc([.. rows.Select(models.Expected)], baseline.Events), Calibration.Assess(validated, baseline.Events));
    }
}
