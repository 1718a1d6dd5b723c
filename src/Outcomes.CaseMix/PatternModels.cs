using System.Collections.Immutable;

namespace Outcomes.CaseMix;

/// <summary>
/// Chances of records of which some lack a field. Missing is no level: a record that lacks a field has the chance of the model fitted,
/// without that field, to all records of the same baseline that know the others.
/// </summary>
/// <remarks>
/// Ridge models (<see cref="Ridge"/>): the full one, of the records that know every column; one for each pattern of known columns that
/// <see cref="LeastRecords"/> records of the baseline have; and the baseline's mean for any other pattern. One shift of all log odds makes
/// the chances of the baseline add up to its events (calibration in the large): records that lack a field may fare otherwise than those
/// that have it, and the sum would be off by their excess. One model a pattern of missing fields: Fletcher Mercaldo S, Blume JD.
/// Biostatistics 2020;21:236-252 (citation from memory), where each is fitted to its own pattern's records; here to all that can take part,
/// so that being missing says nothing by itself.
/// </remarks>
public sealed class PatternModels
{
    /// <summary>A pattern that fewer records of the baseline have gets no model of its own. Judgement, as for levels.</summary>
    public const int LeastRecords = 10;

    private readonly IReadOnlyList<double[]> _rows;
    private readonly ImmutableArray<PatternModel> _models;
    private readonly Dictionary<string, int> _byPattern;
    private readonly int[] _own;

    // Of the baseline's records: p (1 − p), its sum, and the gradient of the sum of their chances by model.
    private readonly double[] _weights;
    private readonly double _weight;
    private readonly double[][] _gradients;

    private PatternModels(IReadOnlyList<double[]> rows, IReadOnlyList<bool> met, ImmutableArray<string> patterns)
    {
        _rows = rows;
        _models = [.. patterns.Select(pattern => PatternModel.Fit(pattern, rows, met))];
        _byPattern = patterns.Select((pattern, at) => (pattern, at)).ToDictionary(pair => pair.pattern, pair => pair.at);
        _own = [.. rows.Select(Find)];
        Full = _models[0].Fit();
        double[] odds = [.. rows.Select((row, i) => _models[_own[i]].LogOdds(row))];
        Shift = CalibrateInTheLarge(odds, met.Count(value => value));
        _weights = [.. odds.Select(value => Logit.Chance(value + Shift)).Select(chance => chance * (1 - chance))];
        _weight = _weights.Sum();
        _gradients = [.. _models.Select(model => model.Zero())];
        for (var i = 0; i < rows.Count; i++)
            _models[_own[i]].Add(_gradients[_own[i]], rows[i], _weights[i]);
    }

    /// <summary>The model of the records that know every column, before the shift.</summary>
    public LogisticFit Full { get; }

    /// <summary>Added to the log odds of every record; 0 where no record of the baseline lacks a column.</summary>
    public double Shift { get; }

    /// <summary>Records of the baseline that know every column.</summary>
    public int FullRecords => _models[0].Records.Length;

    /// <summary>Models beside the full one and the mean.</summary>
    public int PartModels => _models.Length - 2;

    /// <summary>Rows of all fits times their columns squared: what a fit costs.</summary>

    internal ImmutableArray<string> Patterns => [.. _models.Select(model => model.Pattern)];

    /// <summary>Fits to a baseline.</summary>
    /// <param name="rows">A row a record, all of one length; NaN where a column is not known. At least one row without NaN.</param>
    /// <param name="met">The outcomes, of both kinds.</param>
    public static PatternModels Fit(IReadOnlyList<double[]> rows, IReadOnlyList<bool> met)
    {
        ArgumentNullException.ThrowIfNull(rows);
        ArgumentNullException.ThrowIfNull(met);
        if (rows.Count == 0 || rows.Count != met.Count || !rows.Any(row => row.Length > 0 && row.All(double.IsFinite)))
            throw new ArgumentException("a model needs a column, a row that knows every column, and an outcome for each row; "
                + $"there are {rows.Count} rows and {met.Count} outcomes", nameof(rows));
        var (all, none) = (PatternModel.All(rows[0].Length, known: true), PatternModel.All(rows[0].Length, known: false));
        return Fit(rows, met,
        [
            all,
            .. rows.Select(PatternModel.Of).CountBy(pattern => pattern).Where(pair => pair.Value >= LeastRecords)
                .Select(pair => pair.Key).Except([all, none]).Order(StringComparer.Ordinal),
            none,
        ]);
    }

    /// <summary>The same with the patterns given: all known first, none known last.</summary>
    internal static PatternModels Fit(IReadOnlyList<double[]> rows, IReadOnlyList<bool> met, ImmutableArray<string> patterns) =>
        new(rows, met, patterns);

    /// <summary>The chance of a record by the model of its own pattern, above 0 and below 1.</summary>
    public double Expected(double[] row)
    {
        ArgumentNullException.ThrowIfNull(row);
        return Logit.Chance(_models[Find(row)].LogOdds(row) + Shift);
    }

    /// <summary>True where no model knows the record's pattern: its chance is the baseline's mean.</summary>
    public bool HasMean(double[] row)
    {
        ArgumentNullException.ThrowIfNull(row);
        return row.Length > 0 && Find(row) == _models.Length - 1;
    }

    /// <summary>
    /// The variance of the sum of the records' chances, the outcomes of the baseline taken as random: by the delta method, with all models
    /// and the shift as solutions of one set of estimating equations. With g_k the gradient Σ p(1−p) x of the sum for model k, G_k that of
    /// the baseline's own sum, c = Σ p(1−p) of the records over that of the baseline, and H_k the penalised information:
    /// Σ over the baseline of w (c + Σ_k (g_k − c G_k)' H_k⁻¹ x)², w = p(1−p), each record in the models that it was fitted by. With one
    /// model it is g' H⁻¹ X'WX H⁻¹ g.
    /// </summary>
    /// <param name="rows">The records of the sum.</param>
    /// <remarks>
    /// Source of the form: Huber PJ. Proc 5th Berkeley Symp 1967;1:221-233, with the model's own p(1−p) in place of squared residuals
    /// (citation from memory). Independent of the records whose chances are summed, unless these are the baseline's own.
    /// </remarks>
    public double VarianceOfSum(IEnumerable<double[]> rows)
    {
        ArgumentNullException.ThrowIfNull(rows);
        double[][] sum = [.. _models.Select(model => model.Zero())];
        var total = 0.0;
        foreach (var row in rows)
        {
            var (at, chance) = (Find(row), Expected(row));
            _models[at].Add(sum[at], row, chance * (1 - chance));
            total += chance * (1 - chance);
        }

        var share = total / _weight;
        var influence = new double[_rows.Count];
        Array.Fill(influence, share);
        foreach (var (model, gradient, own) in _models.Zip(sum, _gradients))
            model.Influence([.. gradient.Zip(own, (value, whole) => value - (share * whole))], _rows, influence);
        return influence.Zip(_weights, (value, weight) => weight * value * value).Sum();
    }

    /// <summary>The baseline's chances if it had had these outcomes instead.</summary>
    internal double[] Refitted(IReadOnlyList<bool> met)
    {
        var odds = new double[_rows.Count];
        for (var at = 0; at < _models.Length; at++)
            _models[at].Refit(met, (record, value) =>
            {
                if (_own[record] == at)
                    odds[record] = value;
            });
        var shift = CalibrateInTheLarge(odds, met.Count(value => value));
        return Array.ConvertAll(odds, value => Logit.Chance(value + shift));
    }

    private int Find(double[] row) => _byPattern.TryGetValue(PatternModel.Of(row), out var at) ? at : _models.Length - 1;

    // One model alone is calibrated by its own intercept; all or none met has no finite shift.
    private double CalibrateInTheLarge(double[] odds, int met)
    {
        if (_models[0].Records.Length == _rows.Count || met == 0 || met == odds.Length)
            return 0;
        // Newton's steps, kept between bounds at which nearly none and nearly all are expected.
        var reach = odds.Max(Math.Abs) + 40;
        var (shift, low, high) = (0.0, -reach, reach);
        for (var step = 0; step < 200; step++)
        {
            var (miss, slope) = ((double)met, 0.0);
            foreach (var value in odds)
            {
                var chance = Logit.Chance(value + shift);
                (miss, slope) = (miss - chance, slope + (chance * (1 - chance)));
            }

            (low, high) = miss > 0 ? (shift, high) : (low, shift);
            var next = shift + (miss / slope);
            if (!(next > low && next < high))
                next = (low + high) / 2;
            if (Math.Abs(next - shift) < 1e-13)
                return next;
            shift = next;
        }

        return shift;
    }
}
