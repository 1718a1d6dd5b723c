using Outcomes.Measures;
using Outcomes.Measures.Catalogue;
using Outcomes.Records;

namespace Outcomes.Analysis;

/// <summary>Checks a question against a pipeline, and settles which records it asks of.</summary>
public static class SettleQuestion
{
    /// <summary>Checks what a question names.</summary>
    /// <param name="definition">The question.</param>
    /// <param name="definitions">The measures and titles that there are.</param>
    /// <param name="engine">Reads the conditions.</param>
    /// <exception cref="Failure">Something in it is not there or may not be asked (exit 2).</exception>
    public static Measure Check(QuestionDefinition definition, DefinitionSet definitions, Engine engine)
    {
        ArgumentNullException.ThrowIfNull(definition);
        ArgumentNullException.ThrowIfNull(definitions);
        ArgumentNullException.ThrowIfNull(engine);
        var measure = definitions.Measures.FirstOrDefault(each => each.Id == definition.Measure)
            ?? throw Wrong($"the pipeline has no measure `{definition.Measure}`"
                + Nearest.Suggest(definition.Measure, definitions.Measures.Select(each => each.Id)));
        foreach (var name in definition.By.Where(name => !engine.Knows(name)))
            throw Wrong($"by: no field or derived column is called `{name}`"
                + Nearest.Suggest(name, Titles.Of(definitions).All.Select(each => each.Name)));
        foreach (var name in definition.By.Concat(engine.ReadCondition(definition.Among).Names)
            .Concat(engine.ReadCondition(definition.Versus).Names).Where(name => !StratumFigures.Allowed(measure, name)))
            throw Wrong($"who held the laryngoscope is never set beside death, arrest or front-of-neck access, so `{name}` cannot be "
                + $"used with `{measure.Id}`");
        return measure;
    }

    /// <summary>Settles a question: which months and records it asks of.</summary>
    /// <param name="definition">The question.</param>
    /// <param name="plan">The report's own plan: its last 12 months are asked where no others are named.</param>
    /// <param name="engine">Reads the conditions.</param>
    /// <param name="first">First month with a record.</param>
    /// <exception cref="Failure">Something in it is not there or may not be asked (exit 2).</exception>
    public static AskedQuestion Settle(QuestionDefinition definition, AnalysisPlan plan, Engine engine, Month first)
    {
        ArgumentNullException.ThrowIfNull(plan);
        var measure = Check(definition, plan.Definitions, engine);
        var year = plan.Month.AddMonths(-11) < first ? first : plan.Month.AddMonths(-11);
        var cohort = Read(definition.Among, definition.From ?? (definition.To < year ? first : year), definition.To ?? plan.Month);
        var second = definition.Compares
            ? Read(definition.Versus.Length > 0 ? definition.Versus : definition.Among,
                definition.VersusFrom ?? (definition.VersusTo is null ? cohort.From : first),
                definition.VersusTo ?? (definition.VersusFrom is null ? cohort.To : plan.Month))
            : null;
        return new(definition, measure, cohort, second);

        Cohort Read(string text, Month from, Month to) => from > to || to > plan.Month || to < first
            ? throw Wrong($"the months {from} to {to} are not among those of the records, {first} to {plan.Month}")
            : new(from < first ? first : from, to, engine.ReadCondition(text), text);
    }

    /// <summary>The same for a saved question; null where a report has none of the months that it asks of.</summary>
    internal static AskedQuestion? Find(QuestionDefinition definition, AnalysisPlan plan, Engine engine, IEnumerable<Month> withRecords)
    {
        var first = withRecords.Append(plan.Month).Min();
        bool Has(Month? month) => month is not { } named || (named >= first && named <= plan.Month);
        return Has(definition.To) && Has(definition.VersusTo) && !(definition.From > plan.Month) && !(definition.VersusFrom > plan.Month)
            ? Settle(definition, plan, engine, first) : null;
    }

    private static Failure Wrong(string message) => new(ExitCode.Usage, message);
}
