namespace Outcomes.CaseMix.UnusualRecords;

/// <summary>Draws from the standard normal distribution, two at a time (Box and Muller 1958).</summary>
/// <param name="uniform">Even draws from 0 up to 1.</param>
internal sealed class NormalDraws(Func<double> uniform)
{
    private double? _second;

    public double Next()
    {
        if (_second is { } kept)
        {
            _second = null;
            return kept;
        }

        var (length, angle) = (Math.Sqrt(-2 * Math.Log(1 - uniform())), 2 * Math.PI * uniform());
        _second = length * Math.Sin(angle);
        return length * Math.Cos(angle);
    }
}
