using System.Globalization;
using Outcomes.Analysis;

namespace Outcomes.Reporting;

/// <summary>For which tested measures the case mix is followed, and why not for others that were asked for.</summary>
public static class CaseMixUseWording
{
    private static readonly (MixUse Use, string Sentence)[] Sentences =
    [
        (MixUse.Followed, "Adjusted for case mix: {0}. Each month is compared with what the model fitted to the baseline expects for its "
            + "patients (section Case mix). What the model lacks can still look like a change."),
        (MixUse.NoModel, "Not adjusted for case mix: {0}. There are too few events for a model, so a change of patients would look like a "
            + "change."),
        (MixUse.BaselineWatched,
            "Not adjusted for case mix: {0}. The model was fitted to months that are themselves tested, and would have "
                + "learnt the change that it is to find."),
        (MixUse.FieldMoved,
            "No longer adjusted for case mix: {0}. A field of the model is missing more or less often than in the history."),
    ];

    /// <summary>A sentence or two for each use that occurs; empty where no case mix was asked for.</summary>
    public static string Say(IReadOnlyList<MeasureFigures> tested) => string.Join(' ', Sentences
        .Select(each => (each.Sentence, Titles: tested.Where(measure => measure.Signal?.Mix == each.Use)
            .Select(measure => measure.Measure.Title).ToArray()))
        .Where(each => each.Titles.Length > 0)
        .Select(each => string.Format(CultureInfo.InvariantCulture, each.Sentence, FirstPageWording.Listed(each.Titles))));
}
