using Outcomes.Measures.Catalogue;
using Outcomes.Measures.Conditions;
using Outcomes.Records;

namespace Outcomes.Analysis;

/// <summary>Records of some months that meet a condition.</summary>
/// <param name="From">First month.</param>
/// <param name="To">Last month.</param>
/// <param name="Condition">The condition as it was read; none for all.</param>
/// <param name="Text">The condition as it was written; empty for all.</param>
public sealed record Cohort(Month From, Month To, ReadCondition Condition, string Text)
{
    /// <summary>Whether some records may be in both.</summary>
    public bool MayShare(Cohort other)
    {
        ArgumentNullException.ThrowIfNull(other);
        return From <= other.To && other.From <= To;
    }

    /// <summary>A measure asked of these records alone.</summary>
    public Measure Of(Measure measure)
    {
        ArgumentNullException.ThrowIfNull(measure);
        return Condition.Text.Length == 0 ? measure : measure.Among(Condition.Text);
    }
}

/// <summary>A question that was checked against a pipeline: everything that it names is there.</summary>
/// <param name="Definition">As it was written.</param>
/// <param name="Measure">The measure.</param>
/// <param name="First">Whom it is asked of.</param>
/// <param name="Second">The second cohort; null where none is compared.</param>
public sealed record AskedQuestion(QuestionDefinition Definition, Measure Measure, Cohort First, Cohort? Second)
{
    /// <summary>The question with every choice written out, so that it means the same in every month.</summary>
    public QuestionDefinition Settled => Definition with
    {
        From = First.From,
        To = First.To,
        VersusFrom = Second?.From == First.From && Second?.To == First.To ? null : Second?.From,
        VersusTo = Second?.From == First.From && Second?.To == First.To ? null : Second?.To,
    };
}
