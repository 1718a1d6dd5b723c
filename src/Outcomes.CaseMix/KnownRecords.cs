using System.Collections.Immutable;

namespace Outcomes.CaseMix;

/// <summary>Which records of a baseline know which fields, and how many events are among them.</summary>
internal sealed class KnownRecords(CaseMixData baseline)
{
    /// <summary>Events, or records without one if these are fewer, among the records that know all these fields.</summary>
    public int Rarer(IReadOnlyCollection<FieldCoding> fields)
    {
        Covariate[] asked = [.. baseline.Given.Where(covariate => fields.Any(field => field.Field == covariate.Field))];
        var (events, others) = (0, 0);
        for (var i = 0; i < baseline.Records; i++)
            if (asked.All(covariate => covariate.IsKnown(i)))
                (events, others) = baseline.Events[i] ? (events + 1, others) : (events, others + 1);
        return Math.Min(events, others);
    }

    /// <summary>
    /// The fields that events allow, in the order stated beforehand: a later field never takes the place of one that events do not allow.
    /// Only one that events would allow if it were always recorded is passed over.
    /// </summary>
    /// <param name="fields">The fields, the most important first.</param>
    /// <param name="options">The rules.</param>
    /// <param name="omitted">Takes the fields that are left out.</param>
    public ImmutableArray<FieldCoding> TakeInOrder(
        IReadOnlyList<FieldCoding> fields, CaseMixOptions options, ImmutableArray<Omission>.Builder omitted)
    {
        ImmutableArray<FieldCoding> taken = [];
        var full = false;
        foreach (var field in fields)
        {
            ImmutableArray<FieldCoding> more = [.. taken, field];
            var needed = options.EventsNeeded(more.Sum(each => each.Terms.Length));
            full |= Rarer(taken) < needed;
            if (full)
                omitted.Add(new(field.Field, null, LeftOut.TooFewEvents));
            else if (Rarer(more) < needed)
                omitted.Add(new(field.Field, null, LeftOut.SeldomRecorded));
            else
                taken = more;
        }

        return taken;
    }
}
