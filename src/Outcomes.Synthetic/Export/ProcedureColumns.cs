using System.Collections.Immutable;
using static Outcomes.Synthetic.Export.Cells;
using static Outcomes.Synthetic.Export.LocalCodes;

namespace Outcomes.Synthetic.Export;

/// <summary>The export of procedures, column by column.</summary>
internal static class ProcedureColumns
{
    /// <summary>The first of them draw their missing cells from one stream; later ones and the newest have a stream of their own.</summary>
    public static int First => Newest - LaterColumns.All.Length;

    /// <summary>Where the newest begin.</summary>
    public static int Newest => All.Length - NewestColumns.All.Length;

    public static readonly ImmutableArray<LocalColumn<Procedure>> All =
    [
        new("Case ref", p => p.RecordId),
        new("Date of procedure", p => Date(p.Date)),
        new("Time of day", p => HourBand[p.Patient.HourBand]),
        new("Where", p => Location[p.Patient.Location]),
        new("Urgency", p => Urgency[p.Patient.Urgency]),
        new("Age (years)", p => Number(p.Patient.AgeYears)),
        new("Sex", p => Sex[p.Patient.Sex]),
        new("Weight (kg)", p => Number(p.Patient.WeightKg), 60),
        new("Main reason", p => Indication[p.Patient.Indication], 20),
        new("Arrest before induction", p => YesNo(p.Patient.ArrestBefore)),
        new("Infection", p => Infection[p.Patient.Infection], 25),
        new("Precautions", p => p.Patient.Precaution is { } precaution ? Precaution[precaution] : NotApplicable),
        new("Protective equipment", p => Precaution[p.Patient.Ppe], 60),
        new("Checklist", p => Checklist[p.Preparation.Checklist], 50),
        new("Team brief", p => YesNo(p.Preparation.TeamBrief), 60),
        new("Roles given out", p => YesNo(p.Preparation.RolesAllocated), 60),
        new("Help called", p => Help[p.Course.HelpCalled]),
        new("Plans spoken", p => List(p.Preparation.PlansSpoken, Plan), 80),
        new("Neck membrane", p => Membrane[p.Preparation.Membrane], 90),
        new("Front-of-neck set ready", p => YesNo(p.Preparation.FonaKitReady), 70),
        new("Position", p => Position[p.Preparation.Position], 40),
        new("Head up (degrees)", p => Number(p.Preparation.HeadUpDeg), 150),
        new("Preoxygenation by", p => List(p.Preparation.PreoxMethod, PreoxMethod), 40),
        new("Preoxygenation (s)", p => Number(p.Preparation.PreoxSeconds), 90),
        new("End-tidal O2 before (%)", p => Number(p.Preparation.EtO2), 550),
        new("Apnoeic oxygen", p => YesNo(p.Preparation.ApnoeicOxygen), 60),
        new("Induction drug", p => Drug[p.Preparation.InductionAgent]),
        new("Relaxant", p => Drug[p.Preparation.Relaxant]),
        new("Sequence", p => Sequence[p.Preparation.Sequence]),
        new("SpO2 before", p => Number(p.Observations.SpO2Pre), 30, IsVital: true),
        new("SpO2 lowest", p => Number(p.Observations.SpO2Min), 40, IsVital: true),
        new("SpO2 after 2 min", p => Number(p.Observations.SpO2At2Min), 120, IsVital: true),
        new("Systolic before", p => Number(p.Observations.SbpPre), 35, IsVital: true),
        new("Systolic lowest", p => Number(p.Observations.SbpMin), 50, IsVital: true),
        new("Vasopressor before", p => Vasopressor[p.Observations.VasopressorPre]),
        new("Vasopressor new or more", p => YesNo(p.Observations.VasopressorNew), 40),
        new("Fluid given (mL)", p => Number(p.Observations.FluidMl), 100),
        new("Intubation attempts", p => Number(p.Course.AttemptsTotal), 15),
        new("Plan A", p => PlanResult[p.Course.PlanA]),
        new("Plan B", p => PlanResult[p.Course.PlanB]),
        new("Plan C", p => PlanResult[p.Course.PlanC]),
        new("Plan D", p => PlanResult[p.Course.PlanD]),
        new("Ended at", p => Plan[p.Course.FinalPlan]),
        new("Airway at the end", p => FinalAirway[p.Course.FinalAirway]),
        new("Cannot oxygenate declared", p => YesNo(p.Course.FrontOfNeck)),
        new("Front of neck done", p => YesNo(p.Course.FrontOfNeck)),
        new("Front of neck worked", p => p.Course.FrontOfNeck ? YesNo(p.Course.PlanD == "succeeded") : NotApplicable),
        new("CO2 check", p => p.Course.Co2Confirmation is { } check ? Co2[check] : NotApplicable, 30),
        new("CO2 sustained", p => p.Course.SustainedCo2 is { } sustained ? YesNo(sustained) : NotApplicable, 70),
        new("Oesophageal", p => Oesophageal[p.Course.Oesophageal]),
        new("Oesophageal seen after (s)", p => p.Course.RecognitionSeconds is { } seconds ? Number(seconds) : NotApplicable),
        new("Complications", p => List(p.Observations.Complications, Complication), 40),
        new("Arrest during or after", p => YesNo(p.Observations.ArrestPeri), 15),
        new("Recorded by", p => Recorder[p.Entry.RecorderRole]),
        new("Recorded after (h)", p => Number(p.Entry.DelayHours)),
        .. LaterColumns.All,
        .. NewestColumns.All,
    ];

    /// <summary>The place of a column; a heading that is not there is a bug.</summary>
    public static int IndexOf(string heading)
    {
        for (var i = 0; i < All.Length; i++)
            if (All[i].Heading == heading)
                return i;
        throw new ArgumentOutOfRangeException(nameof(heading), heading, "No column of the export has this heading.");
    }
}
