using Outcomes.Analysis;
using Outcomes.Records;

namespace Outcomes.Reporting;

/// <summary>Why a section stands in this month's report.</summary>
public static class ChosenWording
{
    public static string Why(ChosenSection chosen, Figures model)
    {
        ArgumentNullException.ThrowIfNull(chosen);
        ArgumentNullException.ThrowIfNull(model);
        return chosen.Reason switch
        {
            ChosenReason.CaptureFell => "Chosen because fewer of the procedures were recorded than before.",
            ChosenReason.ClearestDifference => $"Chosen by rule: of {Wording.Some(chosen.Compared, "difference")} between groups, that in "
                + $"{Readable.WithinSentence(chosen.Difference!.Measure.Title)} is the clearest. A difference chosen for that is usually "
                + "smaller in later data.",
            _ => $"Chosen because it is its turn: none of the {Wording.Some(chosen.Compared, "difference")} between groups stands out.",
        };
    }
}
