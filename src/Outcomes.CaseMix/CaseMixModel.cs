using System.Collections.Immutable;

namespace Outcomes.CaseMix;

/// <summary>Why a field of the case mix is not in the model.</summary>
public enum LeftOut
{
    /// <summary>It, or what stands before it in the list, uses up the events.</summary>
    TooFewEvents,

    /// <summary>Events would allow it, but too few of them are among the records that know it.</summary>
    SeldomRecorded,

    /// <summary>All records of the baseline are alike in it, once small levels are pooled.</summary>
    NoVariation,

    /// <summary>A column of it says nothing that the columns before do not say.</summary>
    SaidAlready,
}

/// <summary>A field, or one level of it, that is not in the model.</summary>
public sealed record Omission(string Field, string? Level, LeftOut Why);

/// <summary>Expected chances of the event given the case mix, fitted to the baseline.</summary>
/// <param name="Fields">How each field of the model is coded.</param>
/// <param name="Terms">The columns, in the order of <see cref="LogisticFit.Coefficients"/> after the intercept.</param>
/// <param name="Models">The coefficients, and the models of records that lack a field.</param>
/// <param name="Omitted">What is not in the model.</param>
/// <param name="Auc">Discrimination of the cross-validated chances.</param>
/// <param name="ApparentAuc">Discrimination on the records it was fitted to: flattering.</param>
/// <param name="Calibration">Calibration of the cross-validated chances.</param>
public sealed record CaseMixModel(
    ImmutableArray<FieldCoding> Fields, ImmutableArray<Term> Terms, PatternModels Models, ImmutableArray<Omission> Omitted,
    Area Auc, Area ApparentAuc, CalibrationResult Calibration)
{
    /// <summary>The expected chance of each record.</summary>
    public ImmutableArray<double> Expected(CaseMixData data) => [.. Rows(data).Select(Models.Expected)];

    /// <summary>The columns of each record, NaN where its field is missing: what <see cref="Models"/> take.</summary>
    public double[][] Rows(CaseMixData data) => Rows(Fields, Terms, data);

    /// <summary>Records with a level that the baseline never had, by field; fields without any are left out.</summary>
    public ImmutableArray<(string Field, int Records)> Unseen(CaseMixData data)
    {
        ArgumentNullException.ThrowIfNull(data);
        return [.. Fields.Select(field => (field.Field, Find(data, field), field)).Select(item => (item.Field,
            Enumerable.Range(0, data.Records).Count(i => item.field.Unseen(item.Item2, i)))).Where(item => item.Item2 > 0)];
    }

    internal static double[][] Rows(ImmutableArray<FieldCoding> fields, ImmutableArray<Term> terms, CaseMixData data)
    {
        (FieldCoding Field, Covariate Covariate, int[] Kept)[] coded =
            [.. fields.Select(field => (field, Find(data, field),
                Enumerable.Range(0, field.Terms.Length).Where(at => terms.Contains(field.Terms[at])).ToArray()))];
        return [.. Enumerable.Range(0, data.Records).Select(i => coded.SelectMany(item =>
        {
            double[] row = [.. item.Field.Row(item.Covariate, i)];
            return item.Kept.Select(at => row[at]);
        }).ToArray())];
    }

    private static Covariate Find(CaseMixData data, FieldCoding field) =>
        data.Given.FirstOrDefault(covariate => covariate.Field == field.Field)
            ?? throw new ArgumentException($"the data lack the field {field.Field} of the model", nameof(data));
}
