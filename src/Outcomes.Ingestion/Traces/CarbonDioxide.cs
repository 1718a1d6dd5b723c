namespace Outcomes.Ingestion.Traces;

/// <summary>
/// Breaths with carbon dioxide after the tube, from end-tidal samples and the respiratory rate. Chrimes 2022 (Anaesthesia 77) asks for
/// seven breaths or more with a peak more than 1 kPa (7.5 mmHg) above baseline, steady or rising, and clinically fitting. End-tidal
/// samples have no baseline, so zero stands for it, and neither the shape nor the clinical fit can be seen: this supports a recorded
/// answer and does not replace it.
/// </summary>
public static class CarbonDioxide
{
    /// <summary>
    /// Breaths in the longest unbroken run of end-tidal samples above 1 kPa between two times: each sample's time times the respiratory
    /// rate then, summed. A lower sample, a gap, or a time without a known rate ends a run. Null without samples of both in the period.
    /// </summary>
    public static double? Breaths(CleanSignal endTidal, CleanSignal rate, int from, int to)
    {
        double run = 0, longest = 0;
        var any = false;
        var r = 0;
        for (var i = 0; i < endTidal.Count; i++)
        {
            if (endTidal.Within(i, from, to) is not (var within and > 0)) continue;
            var at = Math.Max(endTidal.Ms(i), from);
            while (r + 1 < rate.Count && rate.Ms(r + 1) <= at) r++;
            var known = r < rate.Count && rate.Ms(r) <= at && at < rate.Ms(r) + rate.HoldMs(r);
            any |= known;
            run = known && endTidal.Value(i) > TraceRules.CarbonDioxideKpa ? run + (within * rate.Value(r) / 60_000) : 0;
            longest = Math.Max(longest, run);
            if (!endTidal.Joined(i)) run = 0;
        }

        return any ? longest : null;
    }
}
