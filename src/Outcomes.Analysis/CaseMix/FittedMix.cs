using System.Collections.Immutable;
using Outcomes.CaseMix;
using Outcomes.Measures;
using Outcomes.Measures.Catalogue;
using Outcomes.Records;

namespace Outcomes.Analysis;

/// <summary>
/// The judged records of a measure with their case mix, and the model of their events that was fitted to the declared baseline.
/// </summary>
/// <param name="Measure">The measure.</param>
/// <param name="Data">Events and case mix, a value a record.</param>
/// <param name="Months">The month of each record.</param>
/// <param name="Sites">The site of each record; empty where no source says it.</param>
/// <param name="NotCollected">Fields of the case mix that no source collects.</param>
/// <param name="Fit">The model, or why there is none.</param>
public sealed record FittedMix(
    Measure Measure, CaseMixData Data, ImmutableArray<Month> Months, ImmutableArray<string?> Sites,
    ImmutableArray<string> NotCollected, CaseMixFit Fit)
{
    private const string Site = "site_code";

    // A rounded chance of 0 or 1 would be certainty, which no model gives.
    private const double Least = 1e-6;

    /// <summary>The first and the last month that the model was fitted to.</summary>
    public required (Month From, Month To) Baseline { get; init; }

    /// <summary>True when the event is that the measure was not met: the event is what is unwelcome.</summary>
    public bool EventIsNotMet => IsNotMet(Measure);

    /// <summary>One a measure that the plan asks for, in its order. Side by side, each fit with seeds of its own.</summary>
    public static ImmutableArray<FittedMix> FitAll(DepartmentCounts department) => department.Plan.CaseMix is not { } asked ? [] :
    [
        .. department.Plan.Definitions.Measures.IntersectBy(asked.Measures, measure => measure.Id)
            .OrderBy(measure => asked.Measures.IndexOf(measure.Id)).AsParallel().AsOrdered()
            .Where(measure => department.CaseMixDesigns.ContainsKey(measure.Id))
            .Select(measure => FitOne(department.Plan, asked, department.Book, measure, department.CaseMixDesigns[measure.Id])),
    ];

    /// <summary>The fields that the engine is asked for each judged record.</summary>
    public static ImmutableArray<string> Asked(CaseMixPlan plan) => [.. plan.Given, Site];

    /// <summary>The records of the baseline, as indexes.</summary>
    public int[] BaselineRecords() =>
        [.. Enumerable.Range(0, Months.Length).Where(i => Months[i] >= Baseline.From && Months[i] <= Baseline.To)];

    /// <summary>
    /// For every month of the book the chance of the event of each judged record, in six digits, so that processors agree; null without a
    /// model. Chances of single records: they are for the monthly test alone, and no report or table holds them.
    /// </summary>
    public ImmutableArray<ImmutableArray<double>>? Chances(SeriesBook book)
    {
        if (Fit.Model is not { } model)
            return null;
        var months = book.First.To(book.Last).Select(_ => ImmutableArray.CreateBuilder<double>()).ToArray();
        foreach (var (record, chance) in model.Expected(Data).Index())
            months[Months[record].MonthsSince(book.First)].Add(Math.Clamp(ExpectedEvents.Six(chance), Least, 1 - Least));
        return [.. months.Select(month => month.ToImmutable())];
    }

    private static FittedMix FitOne(AnalysisPlan plan, CaseMixPlan request, SeriesBook book, Measure measure, Design design)
    {
        int[] used = [.. Enumerable.Range(0, design.Months.Length)
            .Where(i => design.Months[i] >= book.First && design.Months[i] <= book.Last)];
        var data = Coded(measure, request, design, used);
        var (from, to) = plan.BaselineMonths(book.First);
        ImmutableArray<Month> months = [.. used.Select(i => design.Months[i])];
        int[] baseline = [.. Enumerable.Range(0, months.Length).Where(i => months[i] >= from && months[i] <= to)];
        var sites = design.Fields.FirstOrDefault(field => field.Name == Site)?.Levels;
        return new(measure, data, months, sites is null ? [] : [.. used.Select(i => sites.Value[i])], [.. design.NotCollected.Where(
            field => field != Site)], CaseMixFit.Fit(data.Select(baseline), new CaseMixOptions { AsFarAsEventsAllow = request.Shipped }))
        { Baseline = (from, to) };
    }

    /// <summary>
    /// What happened to some judged records of the measure, against what the model expects for their case mix; null without a model or a
    /// record in those months.
    /// </summary>
    /// <param name="design">The records, with the fields of <see cref="Asked"/>.</param>
    /// <param name="asked">The plan that the model was fitted by.</param>
    /// <param name="from">First month.</param>
    /// <param name="to">Last month.</param>
    public ObservedExpected? Expect(Design design, CaseMixPlan asked, Month from, Month to)
    {
        ArgumentNullException.ThrowIfNull(design);
        ArgumentNullException.ThrowIfNull(asked);
        int[] used = [.. Enumerable.Range(0, design.Months.Length).Where(i => design.Months[i] >= from && design.Months[i] <= to)];
        if (Fit.Model is not { } model || used.Length == 0)
            return null;
        var data = Coded(Measure, asked, design, used);
        var given = model.Rows(data);
        var error = Math.Sqrt(model.Models.VarianceOfSum(given));
        return ExpectedEvents.Row(from, to, null, used.Length, StandardisedRatio.EstimateWithError(
            data.Events.Count(happened => happened), given.Sum(model.Models.Expected), error));
    }

    private static CaseMixData Coded(Measure measure, CaseMixPlan request, Design design, int[] used) => new(
        [.. used.Select(i => design.Met[i] != IsNotMet(measure))],
        [.. design.Fields.Where(field => request.Given.Contains(field.Name)).Select(field => Covariate(field).Select(used))]);

    private static bool IsNotMet(Measure measure) => measure.Direction == Direction.Up;

    private static Covariate Covariate(DesignField field) => field.Numbers.IsDefault
        ? CaseMix.Covariate.Code(field.Name, field.Levels)
        : CaseMix.Covariate.Quantity(field.Name, field.Numbers);
}
