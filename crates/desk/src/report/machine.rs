//! Which machine of a shop is best for each process of a procedure.

use std::fmt;

use seamwright_model::procedure::keys;
use seamwright_model::shop::Shop;
use seamwright_weld::{View, machines};
use serde_json::{Value, json};

/// The best machine of a shop for a process, and what to set on it.
pub struct Machine {
    /// ISO 4063 number of the process.
    pub process: String,
    /// Name in the shop.
    pub name: String,
    /// Whether it welds the process at all.
    pub welds: bool,
    /// Whether it can weld the process as stated.
    pub fit: bool,
    /// Polarity and current.
    pub settings: String,
    /// Duty cycle at the highest current, %.
    pub duty_cycle_pct: Option<f64>,
    /// Whether the gas is opened by hand at the torch.
    pub gas_by_hand: bool,
}

impl Machine {
    /// The machine in the shape that programs rely on.
    pub fn json(&self) -> Value {
        json!({
            "process": self.process,
            "machine": self.welds.then_some(&self.name),
            "fit": self.fit,
            "settings": self.settings,
            "duty_cycle": self.duty_cycle_pct.map(|duty| json!({"value": duty, "unit": "%"})),
            "gas_by_hand": self.gas_by_hand,
        })
    }

    /// The machines for the processes of a procedure.
    pub fn for_procedure(view: &View<'_>, shop: &Shop) -> Vec<Self> {
        machines::for_processes(shop, view)
            .into_iter()
            .map(|(run, best)| {
                let polarity = run.value(&keys::POLARITY).map(|at| at.value.to_string());
                let current = run.value(&keys::CURRENT).map(|at| at.value.to_string());
                Self {
                    process: run.number().to_owned(),
                    name: best.machine.name.to_string(),
                    welds: best.welds,
                    fit: best.lacks.is_empty(),
                    settings: [polarity, current].into_iter().flatten().collect::<Vec<_>>().join(", "),
                    duty_cycle_pct: best.duty.map(|duty| duty.duty_cycle_pct),
                    gas_by_hand: best.gas_by_hand,
                }
            })
            .collect()
    }
}

impl fmt::Display for Machine {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if !self.welds {
            return write!(f, "{}: no machine of the shop welds it", self.process);
        }
        if !self.fit {
            return write!(
                f,
                "{}: no machine of the shop can weld it as stated; {} comes nearest",
                self.process, self.name
            );
        }
        write!(f, "{} on {}: {}", self.process, self.name, self.settings)?;
        if let Some(duty) = self.duty_cycle_pct {
            write!(f, ", duty cycle {duty:.0} %")?;
        }
        if self.gas_by_hand {
            write!(f, ", gas opened by hand at the torch")?;
        }
        Ok(())
    }
}
